package soakbench.live.figures;

import java.util.List;
import soakbench.drift.curve.BiasCurve;
import soakbench.drift.curve.CurveAsk;
import soakbench.drift.heading.Heading;
import soakbench.drift.heading.HeadingAsk;
import soakbench.drift.noise.Noise;
import soakbench.live.deriving.SoakDrift;
import soakbench.model.Bin;
import soakbench.model.Limits;
import soakbench.model.Tracker.Rates;
import soakbench.thermal.WarmUpCurve;

/**
 * The full analysis of one soak's bins: fits and curves, of which {@link
 * soakbench.lots.SoakFigures} holds the numbers that are stored and compared.
 */
public record SoakAnalysis(WarmUpCurve warmUp, BiasCurve biasCurve, Noise noise, Heading heading) {

  /** Analyses a tracker whose rates are not declared. */
  public static SoakAnalysis of(List<Bin> bins, Limits limits) {
    return of(bins, limits, Rates.UNKNOWN);
  }

  /**
   * Analyses it. Rates that the firmware corrects have neither a bias curve nor noise, but the
   * reason.
   *
   * @param bins all bins of one soak, by time; may be empty
   * @param declared what the roster declares of its rates
   */
  public static SoakAnalysis of(List<Bin> bins, Limits limits, Rates declared) {
    SoakDrift drift = SoakDrift.of(bins, CurveAsk.at(limits.useTemperatureC()), declared);
    return new SoakAnalysis(
        drift.warmUp(),
        drift.curve().curve(),
        drift.noise(),
        drift.heading(HeadingAsk.between(drift.newestC(), limits.useTemperatureC())));
  }
}
