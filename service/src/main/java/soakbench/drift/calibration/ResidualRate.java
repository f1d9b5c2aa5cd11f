package soakbench.drift.calibration;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import soakbench.model.Bin;
import soakbench.model.Estimate;
import soakbench.model.Tracker.Rates;

/**
 * What a calibration left of the bias, as the mean over all directions that a wearer turns to. The
 * still minute alone does not show it: on its face gravity adds its part, and so does the Earth.
 * The poses of the handling show what gravity adds on each face, with the Earth's part along it;
 * the Earth's level part, whose direction nobody knows, stays in the interval.
 *
 * <p>How sensitive to gravity a chip is differs from make to make, so three scales are weighed by
 * how well the poses of all axes go with each (restricted likelihood).
 */
public final class ResidualRate {
  /** Of such chips, deg/s for each g (common practice, no source). */
  private static final double[] SENSITIVITY_DPS = {0.002, 0.005, 0.0125};

  private static final double QUANTILE = 1.96;

  private ResidualRate() {}

  /**
   * The residual.
   *
   * @param seen the handling; a unit that was off all the while was lifted and has no seconds of it
   * @param before the still seconds before it was lifted
   * @param handled the seconds from lifting to lying still
   * @param still the minute after
   * @param rates raw: bias after less bias before; those that something is taken off: what is left
   *     itself
   * @param whiteDps N of each axis, deg/sqrt(s)
   * @param tempcoDpsPerC temperature coefficient of each axis, where it is known
   * @return deg/s, x y z; 95 %
   */
  public static List<Estimate> of(
      HandlingSeen seen,
      List<Bin> before,
      List<Bin> handled,
      List<Bin> still,
      Rates rates,
      double[] whiteDps,
      List<Estimate> tempcoDpsPerC) {
    List<Pose> poses = PoseFinder.of(handled, still);
    PoseModel model = new PoseModel(Pose.of(before), poses, Pose.of(still), seen.lifted(), rates);
    List<List<PoseModel.Level>> byScale = new ArrayList<>();
    for (double scaleDps : SENSITIVITY_DPS) {
      List<PoseModel.Level> axes = new ArrayList<>();
      for (int i = 0; i < 3; i++) {
        axes.add(model.residual(i, whiteDps[i], tempcoDpsPerC.get(i), scaleDps));
      }
      byScale.add(axes);
    }
    return mixed(byScale);
  }

  private static List<Estimate> mixed(List<List<PoseModel.Level>> byScale) {
    List<Double> logs =
        byScale.stream()
            .map(axes -> axes.stream().mapToDouble(PoseModel.Level::logLikelihood).sum())
            .toList();
    double best = Collections.max(logs);
    List<Estimate> out = new ArrayList<>();
    for (int i = 0; i < 3; i++) {
      double weights = 0;
      double sum = 0;
      double squares = 0;
      for (int k = 0; k < byScale.size(); k++) {
        PoseModel.Level level = byScale.get(k).get(i);
        double weight = Math.exp(logs.get(k) - best);
        weights += weight;
        sum += weight * level.dps();
        squares += weight * (level.variance() + level.dps() * level.dps());
      }
      double mean = sum / weights;
      out.add(Estimate.of(mean, Math.sqrt(squares / weights - mean * mean), QUANTILE));
    }
    return out;
  }
}
