package soakbench.ingest.source;

import java.util.List;
import java.util.function.ToDoubleFunction;
import soakbench.live.SampleSink;
import soakbench.model.Sample;

/**
 * Adds the roster's temperature offset to each tracker's temperatures, once, whichever input they
 * come by.
 */
public final class OffsetSink implements SampleSink {
  private final SampleSink sink;
  private final ToDoubleFunction<String> offsetC;

  /**
   * @param offsetC what is to be added to a tracker's temperatures, degC, by its id
   */
  public OffsetSink(SampleSink sink, ToDoubleFunction<String> offsetC) {
    this.sink = sink;
    this.offsetC = offsetC;
  }

  @Override
  public Outcome accept(List<Sample> samples) {
    return sink.accept(samples.stream().map(this::corrected).toList());
  }

  private Sample corrected(Sample s) {
    float offset = s.hasTemperature() ? (float) offsetC.applyAsDouble(s.tracker()) : 0;
    return offset == 0 ? s : s.withTemperatureC(s.temperatureC() + offset);
  }
}
