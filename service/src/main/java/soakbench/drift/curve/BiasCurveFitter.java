package soakbench.drift.curve;

import java.util.ArrayList;
import java.util.List;
import soakbench.numerics.BlockOutliers;
import soakbench.numerics.ColouredGrid;
import soakbench.numerics.ColouredRegression;

/**
 * Fits the bias curves of a soak's three axes together, after dropping blocks that don't belong.
 *
 * @param design of the blocks that belong
 * @param axes x, y, z
 * @param dropped how many blocks did not belong
 */
record BiasCurveFitter(CurveDesign design, List<CurveFit> axes, int dropped) {
  /**
   * What is believed of thermal lag where the soak can't show it: 0.03 deg/s per degC and five
   * seconds between thermometer and rate sensor (common practice, no source).
   */
  static final double BELIEVED_LAG = 0.15;

  private static final double LEAST_NOISE_DPS = 1e-6;

  /**
   * Fits.
   *
   * @param lagSd what is believed of the lag; infinite where the blocks show it
   * @throws IllegalArgumentException if the blocks can't determine the curve
   */
  static BiasCurveFitter of(
      List<CurveBlock> blocks, int order, double lagSd, double referenceC, double[] deviation1s) {
    CurveDesign design = CurveDesign.of(blocks, order, lagSd);
    List<ColouredRegression> fits = regressions(design, deviation1s);
    boolean[] kept = BlockOutliers.kept(design.regression(), design.biasDps(), fits);
    List<CurveBlock> belong = new ArrayList<>();
    for (int i = 0; i < kept.length; i++) {
      if (kept[i]) {
        belong.add(blocks.get(i));
      }
    }
    belong = CurveBlock.inCompany(belong);
    int dropped = blocks.size() - belong.size();
    if (dropped > 0) {
      design = CurveDesign.of(belong, order, lagSd);
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
