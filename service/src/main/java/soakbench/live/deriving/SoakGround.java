package soakbench.live.deriving;

import java.util.List;
import soakbench.drift.curve.BiasAnalysis;
import soakbench.drift.curve.CurveAsk;
import soakbench.drift.curve.DriftAnalysis;
import soakbench.drift.curve.StillSoak;
import soakbench.model.Bin;
import soakbench.model.Tracker.Rates;
import soakbench.thermal.WarmUpAnalysis;
import soakbench.thermal.WarmUpCurve;

/**
 * What every question about one soak's drift rests on, whatever is asked.
 *
 * @param warmUp its warm-up, whose breaks separate lag from coefficient
 * @param still its still seconds
 * @param startSecond its first bin; of no meaning without any
 * @param newestC its newest temperature, degC; NaN where none was read
 */
public record SoakGround(WarmUpCurve warmUp, StillSoak still, long startSecond, double newestC) {

  /**
   * Goes through a soak.
   *
   * @param bins all of its bins, by time; may be empty
   */
  public static SoakGround of(List<Bin> bins) {
    double newestC =
        bins.stream()
            .filter(b -> b.temperatureC().count() > 0)
            .reduce((a, b) -> b)
            .map(b -> b.temperatureC().mean())
            .orElse(Double.NaN);
    long startSecond = bins.isEmpty() ? 0 : bins.get(0).second();
    return new SoakGround(WarmUpAnalysis.of(bins), StillSoak.of(bins), startSecond, newestC);
  }

  /** Why the rates tell nothing; null where they do. */
  String hidden(Rates declared) {
    return still.correction().reason(declared);
  }

  /**
   * The bias curve, or the reason why there is none.
   *
   * @param declared what the roster declares of its rates
   */
  public BiasAnalysis curve(CurveAsk ask, Rates declared) {
    String hidden = hidden(declared);
    return hidden != null
        ? BiasAnalysis.unknown(hidden)
        : DriftAnalysis.biasCurve(still, ask, breaksS());
  }

  private double[] breaksS() {
    return warmUp.breaksUs().stream().mapToDouble(us -> us / 1e6 - startSecond).toArray();
  }
}
