package soakbench.thermal;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.IntStream;
import org.hipparchus.exception.MathRuntimeException;
import soakbench.model.Estimate;
import soakbench.numerics.ExponentialModel;
import soakbench.numerics.ExponentialProfile;

/**
 * The warm-up curve of one stretch without a break. Two time constants where they forecast better,
 * over all of it; else one, without the time in which the chip warms by itself.
 *
 * @param rows of the stretch, times since it began
 * @param beganUs begin of the stretch, microseconds since 1970
 * @param fromTheStart whether the soak began with it
 * @param blindC what the thermometer's step hides of a level, degC; added to either side
 * @param leastChangeC a change below this shows no exponential, degC
 * @param breaksUs of the whole soak
 */
record StretchCurve(
    WarmUpRows rows,
    long beganUs,
    boolean fromTheStart,
    double blindC,
    double leastChangeC,
    List<Long> breaksUs) {

  private static final int LEAST_ROWS = 12;
  private static final double LEAST_SPAN_S = 120;
  private static final double LEAST_BODY_S = 60;
  private static final double LONGEST_SPANS = 3;
  private static final double WORTHLESS_C = 6;

  /** A chip is at least this much quicker than its body. */
  private static final double APART = 3;

  /** What is over sooner is no chip (15 to 45 s), but a handling or a break dated wrong, s. */
  private static final double LEAST_CHIP_S = 8;

  private static final int COURSE_STEPS = 120;
  private static final int FORECAST_STEPS = 30;
  private static final double FORECAST_TAUS = 2;

  /**
   * A stretch's curve.
   *
   * @param model what it comes from; null where there is no curve
   */
  record Fitted(WarmUpCurve curve, ExponentialModel model) {
    private static Fitted none(String reason, List<Long> breaksUs) {
      return new Fitted(WarmUpCurve.unknown(reason, breaksUs), null);
    }

    boolean known() {
      return curve.reason() == null;
    }
  }

  Fitted fitted() {
    WarmUpRows body = rows.between(TailSpans.CHIP_S, Double.POSITIVE_INFINITY);
    try {
      Optional<Fitted> two = rows.spanS() < LEAST_SPAN_S ? Optional.empty() : two();
      return two.isPresent() ? two.get() : one(body);
    } catch (MathRuntimeException | IllegalArgumentException notSettled) {
      String either = "no curve: the temperature follows no such law, or the record is too short";
      return Fitted.none(either + " to tell where it bends", breaksUs);
    }
  }

  /** What decides it costs some twenty fits: only asked where the answer matters. */
  private Optional<Fitted> two() {
    if (rows.changeC() < leastChangeC) {
      return Optional.empty();
    }
    try {
      ExponentialModel model = model(rows, 2);
      return chipAndBody(model.fit().timeConstants()) && HeldOutForecasts.twoAreBetter(rows)
          ? Optional.of(fitted(rows, model)).filter(Fitted::known)
          : Optional.empty();
    } catch (MathRuntimeException | IllegalArgumentException notSettled) {
      return Optional.empty();
    }
  }

  private static boolean chipAndBody(double[] taus) {
    return taus[0] >= LEAST_CHIP_S && taus[1] >= LEAST_BODY_S && taus[1] >= APART * taus[0];
  }

  private Fitted one(WarmUpRows body) {
    if (body.size() < LEAST_ROWS || body.spanS() < LEAST_SPAN_S) {
      String needed = "no curve yet: two minutes without a break are needed after the first %d s";
      return Fitted.none(
          String.format(Locale.ROOT, needed, Math.round(TailSpans.CHIP_S)), breaksUs);
    }
    if (body.changeC() < leastChangeC) {
      String little = "no curve: the temperature changed by only %.2f degC since the last break";
      return Fitted.none(String.format(Locale.ROOT, little, body.changeC()), breaksUs);
    }
    ExponentialModel model = model(body, 1);
    if (model.fit().timeConstants()[0] < LEAST_BODY_S) {
      return Fitted.none("no curve: the temperature follows no such law", breaksUs);
    }
    return fitted(body, model);
  }

  private static ExponentialModel model(WarmUpRows used, int count) {
    return ExponentialModel.of(used.timeS(), used.temperatureC(), used.weight(), count);
  }

  private Fitted fitted(WarmUpRows used, ExponentialModel model) {
    ExponentialProfile profile = model.profile();
    int slowest = model.fit().timeConstants().length - 1;
    double[] plateau = profile.plateau();
    boolean open = Double.isInfinite(profile.timeConstants()[slowest][1]);
    if (open
        || model.fit().timeConstants()[slowest] > LONGEST_SPANS * used.spanS()
        || plateau[1] - plateau[0] > WORTHLESS_C) {
      return Fitted.none(
          "plateau not known yet: the record is short beside the time constant", breaksUs);
    }
    double quantile = model.quantile();
    Estimate plateauC =
        Estimate.of(
            model.fit().plateau(),
            (plateau[1] - plateau[0]) / (2 * quantile),
            plateau[0] - blindC,
            plateau[1] + blindC);
    List<Estimate> taus = IntStream.rangeClosed(0, slowest).mapToObj(k -> tauS(model, k)).toList();
    WarmUpCurve curve =
        new WarmUpCurve(
            plateauC,
            startC(model),
            taus,
            false,
            new WarmUpCurve.Basis(
                atUs(used.timeS()[0]),
                atUs(used.timeS()[used.size() - 1]),
                model.residualSd(used.timeS(), used.temperatureC())),
            course(used, model),
            breaksUs,
            null);
    return new Fitted(curve, model);
  }

  private static Estimate tauS(ExponentialModel model, int which) {
    double[] limits = model.profile().timeConstants()[which];
    if (limits[0] == 0 || Double.isInfinite(limits[1])) {
      return Estimate.unknown("the readings set no bounds to this time constant");
    }
    double se = (limits[1] - limits[0]) / (2 * model.quantile());
    return Estimate.of(model.fit().timeConstants()[which], se, limits[0], limits[1]);
  }

  private Estimate startC(ExponentialModel model) {
    if (!fromTheStart) {
      return Estimate.unknown("the curve holds from a break on, and not back to the start");
    }
    double sum = 0;
    int linear = 1 + model.fit().timeConstants().length;
    for (int i = 0; i < linear; i++) {
      for (int j = 0; j < linear; j++) {
        sum += model.fit().covariance()[i][j];
      }
    }
    double blind = blindC / model.quantile();
    return Estimate.of(model.fit().at(0), Math.hypot(Math.sqrt(sum), blind), model.quantile());
  }

  /** Closer together early, where it bends. */
  private List<WarmUpCurve.Point> course(WarmUpRows used, ExponentialModel model) {
    double lastS = used.timeS()[used.size() - 1];
    double[] tausS = model.fit().timeConstants();
    double furtherS = FORECAST_TAUS * tausS[tausS.length - 1];
    List<WarmUpCurve.Point> out = new ArrayList<>();
    for (int i = 0; i <= COURSE_STEPS; i++) {
      double part = (double) i / COURSE_STEPS;
      out.add(point(model, used.timeS()[0] + part * part * used.spanS(), false));
    }
    for (int i = 1; i <= FORECAST_STEPS; i++) {
      out.add(point(model, lastS + furtherS * i / FORECAST_STEPS, true));
    }
    return out;
  }

  private WarmUpCurve.Point point(ExponentialModel model, double tS, boolean forecast) {
    double celsius = model.fit().at(tS);
    double half = model.quantile() * model.fit().standardErrorAt(tS) + blindC;
    return new WarmUpCurve.Point(atUs(tS), celsius, celsius - half, celsius + half, forecast);
  }

  private long atUs(double afterS) {
    return beganUs + Math.round(afterS * 1e6);
  }
}
