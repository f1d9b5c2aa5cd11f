package soakbench.thermal;

import java.io.Serializable;

/**
 * Straight line through temperatures.
 *
 * @param cPerS slope, degC/s
 * @param seCPerS its standard error if the residuals were independent, degC/s
 */
public record Slope(double cPerS, double seCPerS) implements Serializable {

  /** The line through {@code n} points from {@code first} on; null with fewer than three. */
  static Slope of(double[] timeS, double[] temperatureC, int first, int n) {
    if (n < 3) {
      return null;
    }
    double sumT = 0;
    double sumY = 0;
    for (int i = first; i < first + n; i++) {
      sumT += timeS[i];
      sumY += temperatureC[i];
    }
    double meanT = sumT / n;
    double meanY = sumY / n;
    double stt = 0;
    double sty = 0;
    double syy = 0;
    for (int i = first; i < first + n; i++) {
      double dt = timeS[i] - meanT;
      double dy = temperatureC[i] - meanY;
      stt += dt * dt;
      sty += dt * dy;
      syy += dy * dy;
    }
    double slope = sty / stt;
    double variance = Math.max(0, syy - slope * sty) / (n - 2);
    return new Slope(slope, Math.sqrt(variance / stt));
  }

  public double cPerMin() {
    return cPerS * 60;
  }
}
