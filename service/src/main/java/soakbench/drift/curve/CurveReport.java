package soakbench.drift.curve;

import java.util.ArrayList;
import java.util.List;
import soakbench.model.Axes;
import soakbench.model.Estimate;

/** Makes the reported curve out of the fitted one. */
final class CurveReport {
  private final StillSoak soak;
  private final CurveAsk ask;
  private final BiasCurveFitter fitter;
  private final LagEvidence lag;
  private final double[] rangeC;
  private final double operatingC;

  private CurveReport(
      StillSoak soak, CurveAsk ask, BiasCurveFitter fitter, LagEvidence lag, double operatingC) {
    this.soak = soak;
    this.ask = ask;
    this.fitter = fitter;
    this.lag = lag;
    this.rangeC = CurveBlock.range(fitter.design().blocks());
    this.operatingC = operatingC;
  }

  /**
   * Fits and reports.
   *
   * @throws IllegalArgumentException if the blocks can't determine the curve
   */
  static BiasAnalysis of(
      StillSoak soak, CurveAsk ask, List<CurveBlock> blocks, int order, double[] breaksS) {
    double[] range = CurveBlock.range(blocks);
    double operatingC = Math.max(range[0], Math.min(range[1], ask.useC()));
    LagEvidence lag = LagEvidence.of(soak, blocks, order, breaksS);
    double lagSd = lag.identified() ? Double.POSITIVE_INFINITY : BiasCurveFitter.PRIOR_LAG_SD;
    BiasCurveFitter fitter = BiasCurveFitter.of(blocks, order, lagSd, operatingC, soak.whiteDps());
    return new CurveReport(soak, ask, fitter, lag, operatingC).analysis();
  }

  private BiasAnalysis analysis() {
    boolean[] dead = CurveBlock.dead(fitter.design().blocks());
    List<Estimate> hysteresis = Hysteresis.of(soak, fitter.design().blocks());
    List<Estimate> settling = Settling.of(soak, fitter.design(), ask.again());
    List<BiasCurve.Axis> axes = new ArrayList<>();
    List<CurveFit> fits = new ArrayList<>();
    for (int i = 0; i < 3; i++) {
      if (dead[i]) {
        fits.add(null);
        axes.add(
            BiasCurve.Axis.unknown(
                Axes.NAMES.get(i),
                "the axis reads one and the same value: it is dead, or its step hides the drift"));
      } else {
        fits.add(fitter.axes().get(i));
        axes.add(axis(i, hysteresis.get(i), settling.get(i)));
      }
    }
    return new BiasAnalysis(
        new BiasCurve(
            new BiasCurve.Temperatures(operatingC, operatingC, rangeC),
            new BiasCurve.Basis(fitter.design().blocks().size(), fitter.dropped(), lag.condition()),
            axes,
            note(),
            null),
        fits);
  }

  private String note() {
    return lag.identified()
        ? null
        : "the coefficient is that of warming at this rate: its interval allows for a lag of 0 +- "
            + BiasCurveFitter.PRIOR_LAG_SD
            + " deg/s for each degC/s";
  }

  private BiasCurve.Axis axis(int i, Estimate hysteresis, Estimate settling) {
    CurveFit fit = fitter.axes().get(i);
    BiasCurve.Powers powers = fit.powers();
    CurveReading reading = new CurveReading(powers, operatingC, rangeC, fit.residualSdDps());
    double fromC = ask.fromC() != null ? ask.fromC() : rangeC[0];
    double toC = ask.toC() != null ? ask.toC() : rangeC[1];
    return new BiasCurve.Axis(
        Axes.NAMES.get(i),
        powers,
        new BiasCurve.Figures(
            reading.tempcoDpsPerC(operatingC),
            reading.spanDps(),
            hysteresis,
            lag.identified()
                ? fit.unknown(fitter.design().lagIndex())
                : Estimate.unknown(lag.reason()),
            settling,
            fit.residualSdDps()),
        reading.bands(fromC, toC, ask.points()),
        measured(fit),
        LookUpTable.of(operatingC, rangeC, powers, ask.points()).worstErrorDps(),
        null);
  }

  /** The curve without its lag, what the lag did to each block, and what neither explains. */
  private List<BiasCurve.Measured> measured(CurveFit fit) {
    List<CurveBlock> blocks = fitter.design().blocks();
    double lagDpsPerCPerS = fit.regression().coefficients()[fitter.design().lagIndex()];
    List<BiasCurve.Measured> out = new ArrayList<>();
    for (int i = 0; i < blocks.size(); i++) {
      CurveBlock b = blocks.get(i);
      double biasDps =
          fit.value(fit.at(b.temperatureC()))
              + lagDpsPerCPerS * b.rateCPerS()
              + fit.regression().residuals()[i];
      BiasCurve.Branch branch = ThermalBranches.of(b.rateCPerS());
      out.add(new BiasCurve.Measured(b.midS(), b.temperatureC(), biasDps, branch));
    }
    return out;
  }
}
