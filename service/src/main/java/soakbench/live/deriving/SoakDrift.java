package soakbench.live.deriving;

import java.util.List;
import soakbench.drift.curve.BiasAnalysis;
import soakbench.drift.curve.CurveAsk;
import soakbench.drift.curve.DriftAnalysis;
import soakbench.drift.curve.StillSoak;
import soakbench.drift.heading.Heading;
import soakbench.drift.heading.HeadingAnalysis;
import soakbench.drift.heading.HeadingAsk;
import soakbench.drift.noise.Noise;
import soakbench.drift.noise.NoiseAnalysis;
import soakbench.model.Bin;
import soakbench.model.Tracker.Rates;
import soakbench.thermal.WarmUpAnalysis;
import soakbench.thermal.WarmUpCurve;

/**
 * How one soak's bias drifts, with what that rests on.
 *
 * @param warmUp its warm-up, whose breaks separate lag from coefficient
 * @param curve its bias curve
 * @param noise its noise
 * @param newestC its newest temperature, degC; NaN where none was read
 * @param rates what the firmware takes off: as the soak shows, else as the user says
 */
public record SoakDrift(
    WarmUpCurve warmUp, BiasAnalysis curve, Noise noise, double newestC, Rates rates) {

  /**
   * Derives it.
   *
   * @param bins all bins of one soak, by time; may be empty
   * @param ask what is asked of the bias curve
   * @param declared what the roster declares of its rates
   */
  public static SoakDrift of(List<Bin> bins, CurveAsk ask, Rates declared) {
    WarmUpCurve warmUp = WarmUpAnalysis.of(bins);
    StillSoak still = StillSoak.of(bins);
    String hidden = still.correction().reason(declared);
    BiasAnalysis curve =
        hidden != null
            ? BiasAnalysis.unknown(hidden)
            : DriftAnalysis.biasCurve(still, ask, breaksS(warmUp, bins));
    double newestC =
        bins.stream()
            .filter(b -> b.temperatureC().count() > 0)
            .reduce((a, b) -> b)
            .map(b -> b.temperatureC().mean())
            .orElse(Double.NaN);
    Noise noise = hidden != null ? Noise.unknown(hidden) : NoiseAnalysis.of(still, curve.curve());
    return new SoakDrift(warmUp, curve, noise, newestC, still.correction().rates(declared));
  }

  private static double[] breaksS(WarmUpCurve warmUp, List<Bin> bins) {
    long startS = bins.isEmpty() ? 0 : bins.get(0).second();
    return warmUp.breaksUs().stream().mapToDouble(us -> us / 1e6 - startS).toArray();
  }

  /** What a calibration would cost. */
  public Heading heading(HeadingAsk ask) {
    return HeadingAnalysis.of(curve, noise, ask);
  }
}
