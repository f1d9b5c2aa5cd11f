package soakbench.drift.curve;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import soakbench.model.Axes;
import soakbench.model.Estimate;

/** Makes the reported curve out of the fitted one. */
final class CurveReport {
  private static final int SPAN_POINTS = 50;

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
    int order = fitter.design().order();
    double[][] covariance = new double[order + 1][];
    for (int k = 0; k <= order; k++) {
      covariance[k] = Arrays.copyOf(fit.covariance()[k], order + 1);
    }
    double[] coefficients = Arrays.copyOf(fit.coefficients(), order + 1);
    return new BiasCurve.Axis(
        Axes.NAMES.get(i),
        new BiasCurve.Powers(order, coefficients, covariance),
        new BiasCurve.Figures(
            fit.estimate(fit.slopeAt(operatingC)),
            span(fit),
            hysteresis,
            lag.identified()
                ? fit.unknown(fitter.design().lagIndex())
                : Estimate.unknown(lag.reason()),
            settling,
            fit.residualSdDps()),
        bands(fit),
        measured(fit),
        LookUpTable.of(operatingC, rangeC, coefficients, ask.points()).worstErrorDps(),
        null);
  }

  private Estimate span(CurveFit fit) {
    double least = rangeC[0];
    double most = rangeC[0];
    for (int i = 1; i <= SPAN_POINTS; i++) {
      double t = rangeC[0] + (rangeC[1] - rangeC[0]) * i / SPAN_POINTS;
      least = fit.value(fit.difference(least, t)) < 0 ? t : least;
      most = fit.value(fit.difference(most, t)) > 0 ? t : most;
    }
    Estimate e = fit.estimate(fit.difference(least, most));
    return Estimate.of(e.value(), e.se(), Math.max(0, e.low()), e.high());
  }

  private List<BiasCurve.Point> bands(CurveFit fit) {
    double fromC = ask.fromC() != null ? ask.fromC() : rangeC[0];
    double toC = ask.toC() != null ? ask.toC() : rangeC[1];
    List<BiasCurve.Point> out = new ArrayList<>();
    for (int i = 0; i < ask.points(); i++) {
      double t = fromC + (toC - fromC) * i / (ask.points() - 1);
      out.add(point(fit, i == ask.points() - 1 ? toC : t));
    }
    return out;
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

  private BiasCurve.Point point(CurveFit fit, double t) {
    double[] g = fit.at(t);
    double value = fit.value(g);
    double se = fit.standardError(g);
    double q = fit.quantile(g);
    double reading = q * Math.hypot(se, fit.residualSdDps());
    boolean outside = t < rangeC[0] || t > rangeC[1];
    return new BiasCurve.Point(
        t, value, value - q * se, value + q * se, value - reading, value + reading, outside);
  }
}
