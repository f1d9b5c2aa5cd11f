package soakbench.drift.heading;

import java.util.Locale;
import soakbench.drift.curve.CurveFit;
import soakbench.drift.noise.Noise;
import soakbench.model.Estimate;

/**
 * How long until five degrees: the drift's own error, with N sqrt(t) and B t in quadrature.
 *
 * @param whiteDps N, deg/sqrt(s)
 * @param flickerDps B, deg/s; 0 where it is not resolved
 */
record HeadingTime(double whiteDps, double flickerDps) {
  private static final double LIMIT_DEG = 5;

  static HeadingTime of(Noise noise, int axis) {
    if (noise.reason() != null) {
      return new HeadingTime(0, 0);
    }
    Estimate n = noise.axes().get(axis).angleRandomWalkDegPerSqrtH();
    Estimate b = noise.axes().get(axis).biasInstabilityDegPerH();
    return new HeadingTime(n.known() ? n.value() / 60 : 0, b.known() ? b.value() / 3600 : 0);
  }

  /** At a constant rate. */
  Estimate minutes(Estimate degPerMin) {
    double least =
        degPerMin.low() * degPerMin.high() <= 0
            ? 0
            : Math.min(Math.abs(degPerMin.low()), Math.abs(degPerMin.high()));
    double most = Math.max(Math.abs(degPerMin.low()), Math.abs(degPerMin.high()));
    if (least == 0) {
      return Estimate.unknown(
          String.format(
              Locale.ROOT,
              "the rate's interval includes zero: at least %.0f min",
              minutesAt(most)));
    }
    return new Estimate(
        minutesAt(Math.abs(degPerMin.value())), null, minutesAt(most), minutesAt(least), null);
  }

  /** The positive root of (rate^2 + B^2) t^2 + N^2 t = 25, t in s. */
  private double minutesAt(double degPerMin) {
    double a = degPerMin * degPerMin / 3600 + flickerDps * flickerDps;
    double n2 = whiteDps * whiteDps;
    double s =
        2 * LIMIT_DEG * LIMIT_DEG / (n2 + Math.sqrt(n2 * n2 + 4 * a * LIMIT_DEG * LIMIT_DEG));
    return s / 60;
  }

  /** Along a profile: the first second at which the error passes the limit. */
  Estimate minutes(CurveFit fit, double calibratedC, UseProfile profile) {
    double[] g = new double[fit.coefficients().length];
    Double first = null;
    Double earliest = null;
    Double latest = null;
    for (int i = 1; i < profile.timeS().length && latest == null; i++) {
      add(g, fit, calibratedC, profile, i);
      double t = profile.timeS()[i];
      double value = Math.abs(fit.value(g));
      double half = fit.quantile(g) * fit.standardError(g);
      double noise = whiteDps * whiteDps * t + flickerDps * flickerDps * t * t;
      earliest =
          earliest == null && Math.sqrt(square(value + half) + noise) >= LIMIT_DEG
              ? Double.valueOf(t / 60)
              : earliest;
      first =
          first == null && Math.sqrt(value * value + noise) >= LIMIT_DEG
              ? Double.valueOf(t / 60)
              : first;
      latest =
          Math.sqrt(square(Math.max(0, value - half)) + noise) >= LIMIT_DEG
              ? Double.valueOf(t / 60)
              : latest;
    }
    if (first == null) {
      return Estimate.unknown(
          String.format(
              Locale.ROOT,
              "not five degrees off within the %.0f min of the profile%s",
              profile.lengthS() / 60,
              earliest == null
                  ? ""
                  : String.format(Locale.ROOT, "; at the earliest after %.0f min", earliest)));
    }
    return new Estimate(first, null, earliest, latest, null);
  }

  /** Weights of the coefficients in the heading error after a part of the profile, deg. */
  static double[] along(CurveFit fit, double calibratedC, UseProfile profile, double untilS) {
    double[] g = new double[fit.coefficients().length];
    for (int i = 1; i < profile.timeS().length && profile.timeS()[i] <= untilS; i++) {
      add(g, fit, calibratedC, profile, i);
    }
    return g;
  }

  /** The greatest heading error anywhere along the profile, deg. */
  static double greatest(CurveFit fit, double calibratedC, UseProfile profile) {
    double[] g = new double[fit.coefficients().length];
    double most = 0;
    for (int i = 1; i < profile.timeS().length; i++) {
      add(g, fit, calibratedC, profile, i);
      most = Math.max(most, Math.abs(fit.value(g)));
    }
    return most;
  }

  /** The trapezium of one step. */
  private static void add(double[] g, CurveFit fit, double calibratedC, UseProfile profile, int i) {
    double dt = profile.timeS()[i] - profile.timeS()[i - 1];
    double[] a = fit.difference(calibratedC, profile.temperatureC()[i - 1]);
    double[] b = fit.difference(calibratedC, profile.temperatureC()[i]);
    for (int k = 0; k < g.length; k++) {
      g[k] += dt * (a[k] + b[k]) / 2;
    }
  }

  private static double square(double v) {
    return v * v;
  }
}
