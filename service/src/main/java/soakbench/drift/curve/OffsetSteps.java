package soakbench.drift.curve;

import java.util.ArrayList;
import java.util.List;
import soakbench.drift.still.BiasBlock;
import soakbench.drift.still.TemperatureCourse;
import soakbench.model.Bin;

/**
 * Steps of the bias in one pose: firmware that is calibrated as it lies takes another offset off
 * from one second to the next. Such a step is a new offset, never a new curve. {@link StepSearch}
 * finds them; here blocks get a pose of their own from each step on.
 */
final class OffsetSteps {
  private OffsetSteps() {}

  /**
   * The soak's blocks with a pose of its own from each step on, and one for the block it fell into.
   */
  static List<BiasBlock> apart(StillSoak soak) {
    List<BiasBlock> blocks = soak.blocks();
    boolean[] steps = StepSearch.steps(rows(soak), soak.whiteDps(), leastDps(soak));
    List<BiasBlock> out = new ArrayList<>();
    int more = 0;
    for (int k = 0; k < blocks.size(); k++) {
      more += steps[k] || k > 0 && steps[k - 1] ? 1 : 0;
      BiasBlock b = blocks.get(k);
      int pose = b.segment() + more;
      out.add(new BiasBlock(b.midS(), b.widthS(), b.temperatureC(), b.biasDps(), pose));
    }
    return out;
  }

  private static List<StepBlock> rows(StillSoak soak) {
    return soak.blocks().stream().map(b -> row(soak, b)).toList();
  }

  private static StepBlock row(StillSoak soak, BiasBlock b) {
    TemperatureCourse.Reading over = soak.course().over(b.midS(), b.widthS());
    boolean fine = over.known() && !soak.course().coarse();
    double celsius = fine ? b.temperatureC() : over.temperatureC();
    double bootS = soak.sinceBootS(b.midS());
    return new StepBlock(
        b.midS(), b.widthS(), celsius, over.rateCPerS(), bootS, b.biasDps(), b.segment());
  }

  /** A reading's step that its noise does not carry it over is a step of the mean, too. */
  private static double[] leastDps(StillSoak soak) {
    double stepDps =
        soak.pieces().stream()
            .flatMap(List::stream)
            .mapToDouble(Bin::gyroStepDps)
            .filter(Double::isFinite)
            .max()
            .orElse(0);
    double[] least = new double[3];
    for (int axis = 0; axis < least.length; axis++) {
      double noiseDps = soak.whiteDps()[axis] * Math.sqrt(soak.sampleRateHz());
      least[axis] = noiseDps > stepDps / 2 ? 0 : 2 * stepDps;
    }
    return least;
  }
}
