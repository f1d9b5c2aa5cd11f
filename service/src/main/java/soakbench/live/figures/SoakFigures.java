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

/** All figures of one soak, derived from its bins. */
public record SoakFigures(WarmUpCurve warmUp, BiasCurve biasCurve, Noise noise, Heading heading) {

  /** Derives them for a tracker of whose rates nobody said anything. */
  public static SoakFigures of(List<Bin> bins, Limits limits) {
    return of(bins, limits, Rates.UNKNOWN);
  }

  /**
   * Derives them. Rates that the firmware corrects have neither a bias curve nor noise, but the
   * reason.
   *
   * @param bins all bins of one soak, by time; may be empty
   * @param told what the user says of its rates
   */
  public static SoakFigures of(List<Bin> bins, Limits limits, Rates told) {
    SoakDrift drift = SoakDrift.of(bins, CurveAsk.at(limits.useTemperatureC()), told);
    return new SoakFigures(
        drift.warmUp(),
        drift.curve().curve(),
        drift.noise(),
        drift.heading(HeadingAsk.between(drift.newestC(), limits.useTemperatureC())));
  }
}
