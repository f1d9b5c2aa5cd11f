package soakbench.thermal;

import java.util.Arrays;
import org.hipparchus.distribution.continuous.TDistribution;
import soakbench.model.Estimate;
import soakbench.numerics.ExponentialModel;
import soakbench.numerics.LinearFit;

/**
 * How far the surroundings have gone from the plateau that a stretch showed, by the soak's end: the
 * last half hour's temperatures less the curve, as a parabola. A body that follows its surroundings
 * with the time constant tau lies behind them by tau times its own rate, so the level that it heads
 * for now is off the plateau by the parabola's end plus tau times its slope there. Residuals that
 * hang together, as those of a heating cycle do, count for as few as they are worth.
 *
 * @param byC how far, degC
 * @param seC its standard error, degC
 * @param quantile standard errors to a 95 % limit
 * @param onC how far it goes on in ten minutes, degC
 */
record RoomDrift(double byC, double seC, double quantile, double onC) {
  private static final double LONGEST_S = 1800;
  private static final double SHORTEST_S = 600;
  private static final int LEAST_ROWS = 20;

  private static final int PARAMETERS = 3;

  /** What drifts goes on for a while, s. */
  private static final double AHEAD_S = 600;

  /** However much they hang together they are worth this many. */
  private static final double LEAST_WORTH = 6;

  /** So many standard errors show a drift: 1 in 370 by chance. */
  private static final double SHOWN = 3;

  /** What no body in a room is steadier than, degC. */
  private static final double LEAST_C = 0.02;

  private static final RoomDrift NONE = new RoomDrift(0, 0, 0, 0);

  /**
   * Looks for it.
   *
   * @param rows from the stretch's begin to the soak's end, times since the former
   * @param model of the stretch
   */
  static RoomDrift of(WarmUpRows rows, ExponentialModel model) {
    double endS = rows.timeS()[rows.size() - 1];
    double windowS = Math.min(LONGEST_S, Math.max(SHORTEST_S, endS / 2));
    WarmUpRows last = rows.between(Math.max(TailSpans.CHIP_S, endS - windowS), endS + 1);
    if (last.size() < LEAST_ROWS || last.spanS() < SHORTEST_S / 2) {
      return NONE;
    }
    double[][] design = new double[last.size()][];
    double[] missed = new double[last.size()];
    for (int i = 0; i < missed.length; i++) {
      double x = (last.timeS()[i] - endS) / windowS;
      design[i] = new double[] {1, x, x * x};
      missed[i] = last.temperatureC()[i] - model.fit().at(last.timeS()[i]);
    }
    return of(LinearFit.of(design, missed), windowS, model);
  }

  private static RoomDrift of(LinearFit line, double windowS, ExponentialModel model) {
    double worth = Math.max(LEAST_WORTH, worth(line.residuals()));
    int slowest = model.fit().timeConstants().length - 1;
    double tauS = model.fit().timeConstants()[slowest];
    double slope = line.coefficients()[1] / windowS;
    double ahead = tauS / windowS;
    double[][] c = line.unscaledCovariance();
    double lineVariance = c[0][0] + 2 * ahead * c[0][1] + ahead * ahead * c[1][1];
    double each = line.residualVariance() * line.residuals().length / worth;
    double tauSe = tauSe(model, slowest);
    double se = Math.sqrt(each * lineVariance + slope * slope * tauSe * tauSe);
    double quantile = new TDistribution(worth - PARAMETERS).inverseCumulativeProbability(0.975);
    double by = line.coefficients()[0] + tauS * slope;
    return new RoomDrift(by, se, quantile, AHEAD_S * Math.abs(slope));
  }

  private static double tauSe(ExponentialModel model, int slowest) {
    double[] limits = model.profile().timeConstants()[slowest];
    return (limits[1] - limits[0]) / (2 * model.quantile());
  }

  /** How many independent ones the residuals are worth, by what neighbours have in common. */
  private static double worth(double[] residuals) {
    double together = 0;
    for (int i = 1; i < residuals.length; i++) {
      together += residuals[i] * residuals[i - 1];
    }
    double all = Arrays.stream(residuals).map(e -> e * e).sum();
    double rho = all > 0 ? Math.max(0, Math.min(0.99, together / all)) : 0;
    return residuals.length * (1 - rho) / (1 + rho);
  }

  /**
   * The plateau, its limits widened to hold the level at the soak's end where that is shown to be
   * another; and that level in its place where it is outside the plateau's own limits.
   *
   * @param hiddenC what the thermometer's step hides of a level, degC
   */
  Estimate widened(Estimate plateauC, double hiddenC) {
    boolean shown = Math.abs(byC) > SHOWN * seC + hiddenC + LEAST_C;
    if (!shown || !plateauC.known()) {
      return plateauC;
    }
    double levelC = plateauC.value() + byC;
    double half = quantile * seC + onC + hiddenC + LEAST_C;
    boolean gone = levelC < plateauC.low() || levelC > plateauC.high();
    double low = Math.min(plateauC.low(), levelC - half);
    double high = Math.max(plateauC.high(), levelC + half);
    return Estimate.of(gone ? levelC : plateauC.value(), (high - low) / (2 * 1.96), low, high);
  }
}
