package soakbench.api.http;

import java.util.List;
import java.util.concurrent.atomic.LongAdder;
import soakbench.live.SampleSink;
import soakbench.model.Sample;

/** Counts what became of the samples that came in, from ports as from uploads. */
public final class CountingSink implements SampleSink {
  public final LongAdder accepted = new LongAdder();
  public final LongAdder duplicate = new LongAdder();
  public final LongAdder conflicting = new LongAdder();
  private final SampleSink inner;

  public CountingSink(SampleSink inner) {
    this.inner = inner;
  }

  /** The same counts for samples that go elsewhere. */
  public SampleSink around(SampleSink other) {
    return samples -> counted(other.accept(samples));
  }

  @Override
  public Outcome accept(List<Sample> samples) {
    return counted(inner.accept(samples));
  }

  private Outcome counted(Outcome outcome) {
    accepted.add(outcome.accepted());
    duplicate.add(outcome.duplicate());
    conflicting.add(outcome.conflicting());
    return outcome;
  }
}
