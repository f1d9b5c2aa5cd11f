package soakbench.drift.curve;

import java.util.Collections;
import java.util.List;
import soakbench.drift.still.BiasModel;
import soakbench.model.Estimate;
import soakbench.numerics.ColouredRegression;
import soakbench.numerics.Condition;

/**
 * Warming minus cooling at one temperature: a step between the branches, over blocks that saw the
 * same temperatures both ways, still, at under half a degree a minute.
 */
final class Hysteresis {
  private static final double WORST_CONDITION = 30;

  private Hysteresis() {}

  /** One for each axis. */
  static List<Estimate> of(StillSoak soak, List<CurveBlock> blocks) {
    ThermalBranches branches = ThermalBranches.slow(blocks);
    if (!branches.overlap()) {
      return none(
          "needs the same temperatures seen both ways, warming and cooling, at under 0.5 degC/min");
    }
    List<CurveBlock> both = CurveBlock.withoutLonePoses(branches.seenBothWays(blocks));
    int order = BiasModel.orderForSpan(branches.highC() - branches.lowC());
    long poses = both.stream().mapToInt(CurveBlock::segment).distinct().count();
    if (both.size() < poses + order + 4) {
      return none("too few slow half-minutes at temperatures seen both ways: " + both.size());
    }
    double[] warming = both.stream().mapToDouble(b -> b.rateCPerS() > 0 ? 0.5 : -0.5).toArray();
    CurveDesign design = CurveDesign.of(both, order, BiasCurveFitter.PRIOR_LAG_SD).and(warming);
    double condition = Condition.of(design.withoutOffsets(false));
    if (!(condition <= WORST_CONDITION)) {
      return none(
          "it can't be told from the offsets of the poses, the curve and the lag: warm and cool it"
              + " slowly in one pose");
    }
    List<ColouredRegression> fits = BiasCurveFitter.regressions(design, soak.whiteDps());
    return fits.stream().map(f -> CurveFit.unknown(f, design.moreIndex())).toList();
  }

  private static List<Estimate> none(String reason) {
    return Collections.nCopies(3, Estimate.unknown(reason));
  }
}
