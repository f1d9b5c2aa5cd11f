package soakbench.drift.curve;

import java.util.ArrayList;
import java.util.List;
import soakbench.numerics.BlockOutliers;
import soakbench.numerics.ColouredGrid;
import soakbench.numerics.ColouredRegression;

/**
 * Fits the bias curves of a soak's three axes together, after dropping outlying blocks.
 *
 * @param design of the blocks that were kept
 * @param axes x, y, z
 * @param dropped how many blocks were outliers
 */
record BiasCurveFitter(CurveDesign design, List<CurveFit> axes, int dropped) {
  /**
   * Prior of the thermal lag where the soak can't show it: 0.03 deg/s per degC and five seconds
   * between thermometer and rate sensor (common practice, no source).
   */
  static final double PRIOR_LAG_SD = 0.15;

  private static final double LEAST_NOISE_DPS = 1e-6;

  /**
   * Fits.
   *
   * @param lagSd prior standard deviation of the lag; infinite where the blocks show it
   * @throws IllegalArgumentException if the blocks can't determine the curve
   */
  static BiasCurveFitter of(
      List<CurveBlock> blocks, int order, double lagSd, double referenceC, double[] deviation1s) {
    CurveDesign design = CurveDesign.of(blocks, order, lagSd);
    List<ColouredRegression> fits = regressions(design, deviation1s);
    boolean[] kept = BlockOutliers.kept(design.regression(), design.biasDps(), fits);
    List<CurveBlock> good = new ArrayList<>();
    for (int i = 0; i < kept.length; i++) {
      if (kept[i]) {
        good.add(blocks.get(i));
      }
    }
    good = CurveBlock.withoutLonePoses(good);
    int dropped = blocks.size() - good.size();
    if (dropped > 0) {
      design = CurveDesign.of(good, order, lagSd);
      fits = regressions(design, deviation1s);
    }
    CurveDesign last = design;
    return new BiasCurveFitter(
        last, fits.stream().map(fit -> CurveFit.of(last, fit, referenceC)).toList(), dropped);
  }

  static List<ColouredRegression> regressions(CurveDesign design, double[] deviation1s) {
    double[] noise = deviation1s.clone();
    for (int i = 0; i < noise.length; i++) {
      noise[i] = noise[i] > LEAST_NOISE_DPS ? noise[i] : LEAST_NOISE_DPS;
    }
    return ColouredGrid.fit(design.regression(), design.biasDps(), noise);
  }
}
