package soakbench.thermal;

import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.hipparchus.distribution.continuous.TDistribution;
import org.hipparchus.exception.MathRuntimeException;
import soakbench.model.Bin;
import soakbench.model.Estimate;
import soakbench.numerics.ExponentialFit;
import soakbench.numerics.RelaxationPosterior;
import soakbench.numerics.RelaxationPosterior.Moments;
import soakbench.numerics.RelaxationPosterior.TauPrior;

/**
 * The warm-up curve of a whole soak: one time constant (Newton's law, lumped heat capacity) over
 * the newest stretch without a break that shows one. The point is the least-squares fit; the
 * intervals come from the mixture over time constants, because the Jacobian's error of the plateau
 * is worthless while the record is shorter than the time constant.
 */
public final class WarmUpAnalysis {
  private static final int LEAST_BLOCKS = 12;
  private static final TauPrior FLAT = new TauPrior(800, 2);
  private static final double LEAST_CHANGE_C = 0.3;
  private static final double LEAST_TAU_S = 60;

  /** A plateau known to within this is worth more than a newer one that is not, degC. */
  private static final double TELLING_C = 1;

  private static final Comparator<WarmUpCurve> BY_UNCERTAINTY =
      Comparator.comparingDouble(WarmUpAnalysis::uncertaintyC);

  /** Below this not even a temperature that stays the same says anything, s. */
  private static final int LEAST_SECONDS = 30;

  private WarmUpAnalysis() {}

  /**
   * The curve of these bins of one soak, by time; bins without a measured temperature are passed
   * over.
   */
  public static WarmUpCurve of(List<Bin> bins) {
    WarmUpTracker tracker = new WarmUpTracker();
    if (bins.isEmpty()) {
      return WarmUpCurve.unknown("no samples", List.of());
    }
    long start = bins.get(0).second();
    double low = Double.POSITIVE_INFINITY;
    double high = Double.NEGATIVE_INFINITY;
    int seconds = 0;
    for (Bin bin : bins) {
      Bin.Channel c = bin.temperatureC();
      if (c.count() > 0) {
        tracker.accept(bin.second() - start + 0.5, c.mean(), c.sd(), bin.temperatureStepC());
        seconds++;
        low = Math.min(low, c.mean());
        high = Math.max(high, c.mean());
      }
    }
    tracker.finish();
    if (seconds < LEAST_SECONDS) {
      return WarmUpCurve.unknown(tooFew(seconds), List.of());
    }
    return curve(tracker, start, high - low);
  }

  private static String tooFew(int seconds) {
    return seconds == 0
        ? "no curve: its lines carry no temperature"
        : "no curve yet: only " + seconds + " s with a temperature, too few for any";
  }

  private static WarmUpCurve curve(WarmUpTracker tracker, long startSecond, double changeC) {
    List<Long> breaks = tracker.breaksS().stream().map(b -> microseconds(startSecond, b)).toList();
    if (!(changeC > 0)) {
      return WarmUpCurve.unknown("no curve: the temperature did not change", breaks);
    }
    List<WarmUpCurve> curves =
        tracker.stretches().stream()
            .map(s -> ofStretch(tracker, startSecond, breaks, s[0], s[1]))
            .toList();
    return curves.stream()
        .filter(c -> c.reason() == null && uncertaintyC(c) < TELLING_C)
        .findFirst()
        .or(() -> curves.stream().filter(c -> c.reason() == null).min(BY_UNCERTAINTY))
        .or(() -> believed(tracker, startSecond, breaks))
        .orElse(curves.get(0));
  }

  /**
   * A stretch that shows no constant of its own still shows where it levels, if the constant is any
   * that such bodies have: the tail's mixture with its prior. The constant's interval is then
   * little more than that belief.
   */
  private static Optional<WarmUpCurve> believed(
      WarmUpTracker tracker, long startSecond, List<Long> breaks) {
    double[][] stretch = tracker.stretches().get(0);
    double[] t = stretch[0];
    if (t.length < LEAST_BLOCKS || tracker.tail().isEmpty()) {
      return Optional.empty();
    }
    RelaxationPosterior tail = tracker.tail().get();
    Moments plateau = tail.plateauMoments();
    if (plateau.sd() > TELLING_C) {
      return Optional.empty();
    }
    double low = tail.tauQuantile(0.025);
    double high = tail.tauQuantile(0.975);
    Estimate tauS = Estimate.of(tail.tauQuantile(0.5), (high - low) / 4, low, high);
    Estimate start = Estimate.unknown("the curve holds for the end of the soak only");
    return Optional.of(
        new WarmUpCurve(
            Estimate.of(plateau.mean(), plateau.sd(), 1.96),
            start,
            List.of(tauS),
            microseconds(startSecond, t[t.length - 1] - tracker.tailSpanS()),
            microseconds(startSecond, t[t.length - 1]),
            tail.residualSd(),
            breaks,
            null));
  }

  private static double uncertaintyC(WarmUpCurve curve) {
    return curve.plateauC().high() - curve.plateauC().low();
  }

  private static WarmUpCurve ofStretch(
      WarmUpTracker tracker, long startSecond, List<Long> breaks, double[] t, double[] y) {
    if (t.length < LEAST_BLOCKS) {
      return WarmUpCurve.unknown(
          "no curve yet: two minutes without a break are needed after the first "
              + Math.round(WarmUpTracker.CHIP_S)
              + " s",
          breaks);
    }
    double change = Math.abs(y[t.length - 1] - y[0]);
    if (change < Math.max(LEAST_CHANGE_C, 2 * tracker.blindC())) {
      return WarmUpCurve.unknown(
          String.format(
              Locale.ROOT,
              "no curve: the temperature changed by only %.2f degC since the last break",
              change),
          breaks);
    }
    try {
      return fitted(tracker, startSecond, breaks, t, y);
    } catch (MathRuntimeException | IllegalArgumentException notSettled) {
      return WarmUpCurve.unknown("no curve: the temperature follows no such law", breaks);
    }
  }

  private static WarmUpCurve fitted(
      WarmUpTracker tracker, long startSecond, List<Long> breaks, double[] t, double[] y) {
    ExponentialFit.Result fit = ExponentialFit.withTimeConstants(1).fit(t, y);
    double span = t[t.length - 1] - t[0];
    double tau = fit.timeConstants()[0];
    double[] grid = ExponentialFit.logGrid(20, 20 * Math.max(span, 600), 60);
    double floor = Math.max(0.001, tracker.blindC() / Math.sqrt(12));
    RelaxationPosterior posterior = RelaxationPosterior.of(t, y, grid, FLAT, floor);
    long from = microseconds(startSecond, t[0]);
    long to = microseconds(startSecond, t[t.length - 1]);
    double q =
        new TDistribution(Math.max(2, posterior.effectiveCount() - 3))
            .inverseCumulativeProbability(0.975);
    Moments plateau = posterior.plateauMoments();
    if (tau < LEAST_TAU_S) {
      return WarmUpCurve.unknown("no curve: the temperature follows no such law", breaks);
    }
    if (tau > 3 * span || plateau.sd() > 3) {
      return WarmUpCurve.unknown(
          "plateau not known yet: the record is short beside the time constant", breaks);
    }
    Estimate plateauC =
        Estimate.of(
            fit.plateau(),
            plateau.sd(),
            Math.min(fit.plateau(), plateau.mean()) - q * plateau.sd(),
            Math.max(fit.plateau(), plateau.mean()) + q * plateau.sd());
    double low = Math.min(tau, posterior.tauQuantile(0.025));
    double high = Math.max(tau, posterior.tauQuantile(0.975));
    Estimate tauS = Estimate.of(tau, (high - low) / 4, low, high);
    double startSe =
        fit.residualSd() + Math.abs(fit.amplitudes()[0]) * (high - low) / (4 * tau) * t[0] / tau;
    boolean fromTheStart = breaks.stream().noneMatch(b -> b <= from);
    Estimate startC =
        fromTheStart
            ? Estimate.of(fit.at(0), startSe, q)
            : Estimate.unknown("the curve holds from a break on, and not back to the start");
    return new WarmUpCurve(
        plateauC, startC, List.of(tauS), from, to, fit.residualSd(), breaks, null);
  }

  private static long microseconds(long startSecond, double afterS) {
    return startSecond * 1_000_000L + Math.round(afterS * 1e6);
  }
}
