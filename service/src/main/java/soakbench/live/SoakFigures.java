package soakbench.live;

import java.util.List;
import soakbench.drift.BiasCurve;
import soakbench.drift.DriftAnalysis;
import soakbench.drift.Heading;
import soakbench.drift.Noise;
import soakbench.drift.NoiseAnalysis;
import soakbench.drift.StillSoak;
import soakbench.model.Bin;
import soakbench.model.Limits;
import soakbench.model.Tracker.Rates;
import soakbench.thermal.WarmUpAnalysis;
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
    WarmUpCurve warmUp = WarmUpAnalysis.of(bins);
    StillSoak still = StillSoak.of(bins);
    String hidden = still.correction().reason(told);
    BiasCurve curve =
        hidden != null
            ? BiasCurve.unknown(hidden)
            : DriftAnalysis.biasCurve(still, limits.useTemperatureC());
    double newestC =
        bins.stream()
            .filter(b -> b.temperatureC().count() > 0)
            .reduce((a, b) -> b)
            .map(b -> b.temperatureC().mean())
            .orElse(Double.NaN);
    return new SoakFigures(
        warmUp,
        curve,
        hidden != null ? Noise.unknown(hidden) : NoiseAnalysis.of(still, curve),
        DriftAnalysis.heading(curve, newestC, limits.useTemperatureC()));
  }
}
