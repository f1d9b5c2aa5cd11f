package soakbench.thermal;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import soakbench.model.Bin;
import soakbench.model.Estimate;
import soakbench.numerics.Measured;
import soakbench.numerics.RelaxationPosterior;

/**
 * The warm-up curve of a whole soak: the model of a body that warms towards its surroundings, with
 * the chip's own time constant where the readings show it, over the newest stretch without a break
 * that says where it levels. Derived from a soak's bins when asked for, never while judging.
 */
public final class WarmUpAnalysis {
  private static final int LEAST_BLOCKS = 12;
  private static final double LEAST_CHANGE_C = 0.3;

  /** A plateau known to within this is worth more than a newer one that is not, degC. */
  private static final double TELLING_C = 1;

  private static final int LEAST_SWINGS = 4;

  /** A break is dated to this; what comes sooner after it may be the handling that made it, s. */
  private static final double AFTER_BREAK_S = 40;

  /** Breaks more often than once in this time are a swing of the surroundings, s. */
  private static final double SWING_S = 900;

  /** Below this not even a temperature that stays the same says anything, s. */
  private static final int LEAST_SECONDS = 30;

  private WarmUpAnalysis() {}

  /**
   * The curve of these bins of one soak, by time; bins without a measured temperature are passed
   * over.
   */
  public static WarmUpCurve of(List<Bin> bins) {
    if (bins.isEmpty()) {
      return WarmUpCurve.unknown("no samples", List.of());
    }
    WarmUpTracker tracker = new WarmUpTracker();
    BlockSeries seconds = new BlockSeries();
    long start = bins.get(0).second();
    for (Bin bin : bins) {
      Bin.Channel c = bin.temperatureC();
      if (c.count() > 0) {
        double tS = bin.second() - start + 0.5;
        tracker.accept(tS, c.mean(), c.sd(), bin.temperatureStepC());
        seconds.add(tS, c.mean());
      }
    }
    if (seconds.size() < LEAST_SECONDS) {
      return WarmUpCurve.unknown(tooFew(seconds.size()), List.of());
    }
    tracker.finish();
    return curve(Temperatures.bySecond(seconds), tracker, start);
  }

  /**
   * The curve of a soak that was followed second by second and gets no second more: the same but
   * that after its first ten minutes it sees ten seconds at a time.
   *
   * @param startSecond the soak's first second, since 1970
   */
  public static WarmUpCurve of(WarmUpTracker tracker, long startSecond) {
    tracker.finish();
    Temperatures seen = tracker.temperatures();
    int seconds = seen.timeS().length;
    return seconds < LEAST_SECONDS
        ? WarmUpCurve.unknown(tooFew(seconds), List.of())
        : curve(seen, tracker, startSecond);
  }

  private static String tooFew(int seconds) {
    return seconds == 0
        ? "no curve: its lines carry no temperature"
        : "no curve yet: only " + seconds + " s with a temperature, too few for any";
  }

  private static WarmUpCurve curve(Temperatures soak, WarmUpTracker tracker, long startSecond) {
    List<Long> breaks = tracker.breaksS().stream().map(b -> microseconds(startSecond, b)).toList();
    if (!soak.changed()) {
      return WarmUpCurve.unknown("no curve: the temperature did not change", breaks);
    }
    double spanS = soak.spanS();
    boolean swinging = swinging(tracker.breaksS(), spanS);
    List<Double> edges = new ArrayList<>(List.of(0.0));
    edges.addAll(swinging ? List.of() : tracker.breaksS());
    edges.add(Double.POSITIVE_INFINITY);
    List<Stretch> stretches = new ArrayList<>();
    for (int k = edges.size() - 2; k >= 0; k--) {
      Stretch stretch =
          ofStretch(soak, tracker, startSecond, breaks, edges.get(k), edges.get(k + 1));
      if (stretch.fitted.known() && stretch.uncertaintyC() < TELLING_C) {
        return stretch.curve(soak, tracker);
      }
      stretches.add(stretch);
    }
    return stretches.stream()
        .filter(s -> s.fitted.known())
        .min(Comparator.comparingDouble(Stretch::uncertaintyC))
        .map(s -> s.curve(soak, tracker))
        .or(() -> swinging ? Optional.empty() : believed(tracker, startSecond, breaks))
        .orElse(stretches.get(0).fitted.curve());
  }

  /** A stretch that begins so many seconds after the soak. */
  private record Stretch(double beginsS, StretchCurve.Fitted fitted) {

    double uncertaintyC() {
      return fitted.curve().plateauC().high() - fitted.curve().plateauC().low();
    }

    /** With what the surroundings did until the soak's end; there must be a curve. */
    WarmUpCurve curve(Temperatures soak, WarmUpTracker tracker) {
      WarmUpRows toEnd = WarmUpRows.of(soak, beginsS, Double.POSITIVE_INFINITY);
      WarmUpCurve curve = fitted.curve();
      return curve.withPlateau(
          RoomDrift.of(toEnd, fitted.model()).widened(curve.plateauC(), tracker.hiddenLevelC()));
    }
  }

  /**
   * Whether breaks come so often that they are the surroundings' way of being (a room's heating):
   * then each stretch heads for a level of its own, and only all of them together tell where the
   * tracker ends.
   */
  private static boolean swinging(List<Double> breaksS, double spanS) {
    return breaksS.size() >= LEAST_SWINGS && breaksS.size() * SWING_S >= spanS;
  }

  private static Stretch ofStretch(
      Temperatures soak,
      WarmUpTracker tracker,
      long startSecond,
      List<Long> breaksUs,
      double fromS,
      double toS) {
    boolean fromTheStart = fromS == 0;
    double guardedS = fromTheStart ? 0 : fromS + AFTER_BREAK_S;
    StretchCurve curve =
        new StretchCurve(
            WarmUpRows.of(soak, guardedS, toS),
            microseconds(startSecond, guardedS),
            fromTheStart,
            tracker.hiddenLevelC(),
            Math.max(LEAST_CHANGE_C, 2 * tracker.blindC()),
            breaksUs);
    return new Stretch(guardedS, curve.fitted());
  }

  /**
   * A stretch that shows no constant of its own still shows where it levels, if the constant is any
   * that such bodies have: the fit window's mixture with its prior. The constant's interval is then
   * little more than that belief.
   */
  private static Optional<WarmUpCurve> believed(
      WarmUpTracker tracker, long startSecond, List<Long> breaks) {
    double[] t = tracker.newestStretchS();
    if (t.length < LEAST_BLOCKS || tracker.tailFit().isEmpty()) {
      return Optional.empty();
    }
    RelaxationPosterior tail = tracker.tailFit().get();
    Measured plateau = tail.mixture().plateau();
    if (plateau.se() > TELLING_C) {
      return Optional.empty();
    }
    double low = tail.tauQuantile(0.025);
    double high = tail.tauQuantile(0.975);
    Estimate tauS = Estimate.of(tail.tauQuantile(0.5), (high - low) / 4, low, high);
    Estimate start = Estimate.unknown("the curve holds for the end of the soak only");
    return Optional.of(
        new WarmUpCurve(
            Estimate.of(plateau.value(), plateau.se(), 1.96),
            start,
            List.of(tauS),
            !EarlierTaus.own(tauS),
            new WarmUpCurve.Basis(
                microseconds(startSecond, t[t.length - 1] - tracker.tailSpanS()),
                microseconds(startSecond, t[t.length - 1]),
                tail.residualSd()),
            List.of(),
            breaks,
            null));
  }

  private static long microseconds(long startSecond, double afterS) {
    return startSecond * 1_000_000L + Math.round(afterS * 1e6);
  }
}
