package soakbench.drift.heading;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import soakbench.drift.curve.BiasAnalysis;
import soakbench.drift.curve.CurveFit;
import soakbench.drift.noise.Noise;
import soakbench.model.Axes;
import soakbench.model.Estimate;

/**
 * Heading error after a calibration at one temperature, used at another or along a recorded
 * profile: the bias' change, integrated. Over a time t white noise adds N sqrt(t) and flicker B t,
 * in quadrature, where they are known.
 */
public final class HeadingAnalysis {
  /** The Earth's rotation, 0.004178 deg/s (IERS), as deg/min. */
  public static final double EARTH_DEG_PER_MIN = 0.2507;

  /**
   * Standard deviation of such chips' coefficients, deg/s per degC (common practice, no source).
   */
  private static final double COEFFICIENT_DPS = 0.03;

  private static final String NO_CURVE = "its own curve is not known";

  private final BiasAnalysis bias;
  private final HeadingAsk ask;

  private HeadingAnalysis(BiasAnalysis bias, HeadingAsk ask) {
    this.bias = bias;
    this.ask = ask;
  }

  /**
   * The heading.
   *
   * @param noise of the same soak
   */
  public static Heading of(BiasAnalysis bias, Noise noise, HeadingAsk ask) {
    HeadingAnalysis it = new HeadingAnalysis(bias, ask);
    String reason = it.reason();
    if (reason != null) {
      Estimate none = Estimate.unknown(reason);
      return it.heading(none, none, List.of(), null);
    }
    List<Heading.Axis> axes = new ArrayList<>();
    int worst = -1;
    double most = -1;
    for (int i = 0; i < 3; i++) {
      axes.add(new Heading.Axis(Axes.NAMES.get(i), it.degPerMin(i)));
      double moves = it.moves(i);
      worst = moves > most ? i : worst;
      most = Math.max(most, moves);
    }
    if (worst < 0) {
      Estimate none = axes.get(0).degPerMin();
      return it.heading(none, none, axes, null);
    }
    Estimate rate = axes.get(worst).degPerMin();
    HeadingTime time = HeadingTime.of(noise, worst);
    Estimate minutes =
        ask.profile() == null
            ? time.minutes(rate)
            : time.minutes(bias.fits().get(worst), ask.calibratedC(), ask.profile());
    return it.heading(rate, minutes, axes, it.note(rate));
  }

  /** The heading of a unit whose curve is not known: that of such chips. */
  public static Heading ofAnyUnit(HeadingAsk ask) {
    double se = 60 * COEFFICIENT_DPS * Math.abs(ask.useC() - ask.calibratedC());
    HeadingAnalysis it = new HeadingAnalysis(BiasAnalysis.unknown(NO_CURVE), ask);
    return it.heading(Estimate.of(0, se, 1.96), Estimate.unknown(NO_CURVE), List.of(), NO_CURVE);
  }

  private Heading heading(Estimate rate, Estimate minutes, List<Heading.Axis> axes, String note) {
    boolean profile = ask.profile() != null;
    return new Heading(
        new Heading.Asked(
            Double.isNaN(ask.calibratedC()) ? null : ask.calibratedC(),
            profile ? null : ask.useC(),
            profile ? ask.profile().name() : null),
        rate,
        minutes,
        axes,
        EARTH_DEG_PER_MIN,
        note);
  }

  private String reason() {
    if (bias.curve().reason() != null) {
      return bias.curve().reason();
    }
    if (Double.isNaN(ask.calibratedC())) {
      return "no temperature of a calibration is known";
    }
    if (ask.profile() != null && !(ask.profile().lengthS() > 0)) {
      return "soak " + ask.profile().name() + " has no temperatures to make a profile of";
    }
    String calibrated = outside("the calibration's temperature", ask.calibratedC());
    if (calibrated != null) {
      return calibrated;
    }
    if (ask.profile() == null) {
      return outside("the use temperature", ask.useC());
    }
    String low = outside("the profile's lowest temperature", ask.profile().lowC());
    return low != null ? low : outside("the profile's highest temperature", ask.profile().highC());
  }

  private String outside(String what, double c) {
    double[] range = bias.curve().temperatures().rangeC();
    return c >= range[0] - ask.beyondC() && c <= range[1] + ask.beyondC()
        ? null
        : String.format(
            Locale.ROOT,
            "%s %.1f degC is outside the %.1f to %.1f degC that were seen",
            what,
            c,
            range[0],
            range[1]);
  }

  private boolean extrapolated(double c) {
    double[] range = bias.curve().temperatures().rangeC();
    return c < range[0] || c > range[1];
  }

  private String note(Estimate rate) {
    List<String> notes = new ArrayList<>();
    boolean use =
        ask.profile() == null
            ? extrapolated(ask.useC())
            : extrapolated(ask.profile().lowC()) || extrapolated(ask.profile().highC());
    if (use || extrapolated(ask.calibratedC())) {
      notes.add("extrapolated by up to half a degree beyond the temperatures seen");
    }
    if (Math.abs(rate.value()) < EARTH_DEG_PER_MIN) {
      notes.add(
          String.format(
              Locale.ROOT,
              "less than the Earth's rotation, %.2f deg/min, which a still unit can't tell from"
                  + " bias",
              EARTH_DEG_PER_MIN));
    }
    return notes.isEmpty() ? null : String.join("; ", notes);
  }

  /** How far an axis goes: at a chosen temperature by its rate, along a profile by its peak. */
  private double moves(int axis) {
    CurveFit fit = bias.fits().get(axis);
    if (fit == null) {
      return -1;
    }
    return ask.profile() == null
        ? Math.abs(fit.value(fit.difference(ask.calibratedC(), ask.useC())))
        : HeadingTime.greatest(fit, ask.calibratedC(), ask.profile());
  }

  private Estimate degPerMin(int axis) {
    CurveFit fit = bias.fits().get(axis);
    if (fit == null) {
      return Estimate.unknown(bias.curve().axes().get(axis).reason());
    }
    double[] g =
        ask.profile() == null
            ? fit.difference(ask.calibratedC(), ask.useC())
            : HeadingTime.along(fit, ask.calibratedC(), ask.profile(), ask.profile().lengthS());
    double scale = ask.profile() == null ? 60 : 60 / ask.profile().lengthS();
    Estimate e = fit.estimate(g);
    return Estimate.of(scale * e.value(), scale * e.se(), scale * e.low(), scale * e.high());
  }
}
