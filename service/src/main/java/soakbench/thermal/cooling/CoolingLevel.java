package soakbench.thermal.cooling;

import java.util.List;
import java.util.Optional;

/**
 * The straight line that a temperature followed before it fell.
 *
 * @param meanS middle of the seconds it was fitted to, s
 * @param meanC temperature there, degC
 * @param slopeCPerS its slope, degC/s
 * @param sdC standard deviation of a second about it, degC
 * @param count of the seconds
 * @param squaredS sum of their squared distances from the middle, s^2
 */
record CoolingLevel(
    double meanS, double meanC, double slopeCPerS, double sdC, int count, double squaredS) {

  /** Level before it was uncovered: so long, at first until 100 s before the fall is noticed. */
  static final int LEVEL_S = 100;

  /** A second's mean is not believed to be better than this, degC. */
  private static final double LEAST_SD_C = 0.004;

  /**
   * The line through the still seconds of {@link #LEVEL_S} that end here; empty where over a
   * quarter of them are missing.
   *
   * @param blindC the thermometer's step where its noise does not carry it over, else 0, degC
   */
  static Optional<CoolingLevel> until(List<CoolingSecond> seconds, double blindC, double toS) {
    List<CoolingSecond> before =
        seconds.stream()
            .filter(s -> s.tS() <= toS && s.tS() > toS - LEVEL_S && !s.moved())
            .toList();
    int n = before.size();
    if (n < LEVEL_S * 3 / 4) {
      return Optional.empty();
    }
    double meanS = before.stream().mapToDouble(CoolingSecond::tS).average().orElseThrow();
    double meanC = before.stream().mapToDouble(CoolingSecond::temperatureC).average().orElseThrow();
    double stt = 0;
    double stc = 0;
    double scc = 0;
    for (CoolingSecond s : before) {
      stt += (s.tS() - meanS) * (s.tS() - meanS);
      stc += (s.tS() - meanS) * (s.temperatureC() - meanC);
      scc += (s.temperatureC() - meanC) * (s.temperatureC() - meanC);
    }
    double slope = stc / stt;
    double sd = Math.sqrt(Math.max(0, scc - slope * stc) / (n - 2)) + blindC / 2;
    return Optional.of(new CoolingLevel(meanS, meanC, slope, Math.max(LEAST_SD_C, sd), n, stt));
  }

  double at(double tS) {
    return meanC + slopeCPerS * (tS - meanS);
  }

  /** Variance of the line carried on to {@code tS}. */
  double variance(double tS) {
    return sdC * sdC * (1.0 / count + (tS - meanS) * (tS - meanS) / squaredS);
  }
}
