package soakbench.live.deriving;

import java.util.List;
import soakbench.drift.curve.BiasAnalysis;
import soakbench.drift.curve.CurveAsk;
import soakbench.drift.heading.Heading;
import soakbench.drift.heading.HeadingAnalysis;
import soakbench.drift.heading.HeadingAsk;
import soakbench.drift.noise.Noise;
import soakbench.drift.noise.NoiseAnalysis;
import soakbench.model.Bin;
import soakbench.model.Tracker.Rates;
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
    return of(SoakGround.of(bins), ask, declared);
  }

  /** The same of a soak that was gone through before. */
  public static SoakDrift of(SoakGround ground, CurveAsk ask, Rates declared) {
    BiasAnalysis curve = ground.curve(ask, declared);
    String hidden = ground.hidden(declared);
    Noise noise =
        hidden != null ? Noise.unknown(hidden) : NoiseAnalysis.of(ground.still(), curve.curve());
    Rates rates = ground.still().correction().rates(declared);
    return new SoakDrift(ground.warmUp(), curve, noise, ground.newestC(), rates);
  }

  /** What a calibration would cost. */
  public Heading heading(HeadingAsk ask) {
    return HeadingAnalysis.of(curve, noise, ask);
  }
}
