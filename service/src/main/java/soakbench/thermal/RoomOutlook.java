package soakbench.thermal;

import soakbench.model.TauPrior;
import soakbench.numerics.RelaxationPosterior;

/**
 * What is known of a body and its surroundings at one moment: a mixture over time constants and
 * restlessness of the room. Paths into the future are drawn from it.
 *
 * @param parts their weights sum to 1, nearly
 */
public record RoomOutlook(Part[] parts) {
  /** Numbers from the standard normal law that {@link #path} needs. */
  public static final int NORMALS = 5;

  /** How much of what is believed comes from earlier soaks, where there are some. */
  static final double EARLIER_SHARE = 0.9;

  /** What a room does that a coarse thermometer does not show (common practice, no source). */
  private static final double COARSE_WANDER_C_PER_MIN = 0.012;

  private static final double SLOWEST = 1.0 / 20_000;

  /**
   * @param weight its share
   * @param swingC standard deviation of the surroundings' swing, degC
   * @param mean body's temperature, degC; steady slope and what the swing adds to it, degC/s; the
   *     slope of that, degC/s^2; 1/tau, 1/s
   * @param covariance of the five
   */
  public record Part(double weight, double swingC, double[] mean, double[][] covariance) {}

  /**
   * What a posterior of a steady room says, with a room that may swing a little.
   *
   * @param ageS how long ago the posterior's last reading was, s
   * @param believed of the time constant in the posterior
   * @param earlier what is to be believed besides; null for nothing
   */
  static RoomOutlook of(
      RelaxationPosterior tail, double ageS, TauPrior believed, TauPrior earlier) {
    Part[] parts = new Part[tail.tau().length];
    double[] weight = earlier == null ? tail.weight() : reweighed(tail, believed, earlier);
    for (int k = 0; k < parts.length; k++) {
      parts[k] = part(tail, k, weight[k], ageS);
    }
    return new RoomOutlook(parts);
  }

  /** What a posterior of a steady room says now, with a room that may swing a little. */
  public static RoomOutlook ofSteadyRoom(RelaxationPosterior tail) {
    return of(tail, 0, null, null);
  }

  /** The general belief keeps a part, so that a soak unlike the earlier ones can say so. */
  private static double[] reweighed(RelaxationPosterior tail, TauPrior believed, TauPrior earlier) {
    double[] weight = tail.weight().clone();
    double sum = 0;
    for (int k = 0; k < weight.length; k++) {
      double tau = tail.tau()[k];
      double other = density(earlier, tau) / density(believed, tau);
      weight[k] *= 1 - EARLIER_SHARE + EARLIER_SHARE * other;
      sum += weight[k];
    }
    for (int k = 0; k < weight.length; k++) {
      weight[k] /= sum;
    }
    return weight;
  }

  private static double density(TauPrior belief, double tauS) {
    double z = Math.log(tauS / belief.medianS()) / belief.logSd();
    return Math.exp(-z * z / 2) / belief.logSd();
  }

  private static Part part(RelaxationPosterior tail, int k, double weight, double ageS) {
    double tau = tail.tau()[k];
    double left = Math.exp(-ageS / tau);
    double vp = tail.given().plateauVariance()[k];
    double vd = left * left * tail.given().distanceVariance()[k];
    double pd = left * tail.given().covariance()[k];
    double swing = COARSE_WANDER_C_PER_MIN / 60;
    double distance = left * tail.given().distance()[k];
    double[] mean = {tail.given().plateau()[k] + distance, -distance / tau, 0, 0, 1 / tau};
    double bodySlope = -(vd + pd) / tau;
    double[][] cov = {
      {vp + vd + 2 * pd, bodySlope, 0, 0, 0},
      {bodySlope, vd / tau / tau, 0, 0, 0},
      {0, 0, swing * swing, 0, 0},
      {0, 0, 0, square(swing * RoomSwing.slopeSd()), 0},
      {0, 0, 0, 0, 0}
    };
    return new Part(weight, swing * tau, mean, cov);
  }

  /**
   * A future if nobody touches anything.
   *
   * @param u which part, in (0, 1)
   * @param z {@link #NORMALS} standard normal numbers: where in it
   */
  public Path path(double u, double[] z) {
    double sum = 0;
    for (Part part : parts) {
      sum += part.weight;
      if (sum >= u) {
        return new Path(part, z);
      }
    }
    return new Path(parts[parts.length - 1], z);
  }

  /** A future of the body. */
  public static final class Path {
    private final double tauS;
    private final double swingC;
    private final double constantC;
    private double bodyC;
    private double swing;
    private double swingSlope;
    private double stepS;
    private double stay;

    private Path(Part part, double[] z) {
      double[] x = drawn(part, z);
      tauS = 1 / Math.max(SLOWEST, x[4]);
      swingC = part.swingC;
      bodyC = x[0];
      constantC = bodyC + x[1] * tauS;
      swing = x[2] * tauS;
      swingSlope = x[3] * tauS;
    }

    /** By Cholesky's factor; a variance that is nothing stays nothing. */
    private static double[] drawn(Part part, double[] z) {
      int n = part.mean.length;
      double[][] l = new double[n][n];
      double[] x = part.mean.clone();
      for (int i = 0; i < n; i++) {
        for (int j = 0; j <= i; j++) {
          double sum = part.covariance[i][j];
          for (int k = 0; k < j; k++) {
            sum -= l[i][k] * l[j][k];
          }
          l[i][j] = i == j ? Math.sqrt(Math.max(0, sum)) : l[j][j] > 0 ? sum / l[j][j] : 0;
          x[i] += l[i][j] * z[j];
        }
      }
      return x;
    }

    public double temperatureC() {
      return bodyC;
    }

    public double tauS() {
      return tauS;
    }

    /**
     * Goes on by a step short beside the time constant.
     *
     * @param z what stirs the room, standard normal
     */
    public void step(double seconds, RoomSwing law, double z0, double z1) {
      double[][] f = law.move();
      double[][] q = law.stir();
      double l00 = Math.sqrt(q[0][0]);
      double l10 = q[1][0] / l00;
      double l11 = Math.sqrt(Math.max(0, q[1][1] - l10 * l10));
      double next = f[0][0] * swing + f[0][1] * swingSlope + swingC * l00 * z0;
      swingSlope = f[1][0] * swing + f[1][1] * swingSlope + swingC * (l10 * z0 + l11 * z1);
      if (seconds != stepS) {
        stepS = seconds;
        stay = Math.exp(-seconds / tauS);
      }
      bodyC = stay * bodyC + (1 - stay) * (constantC + (swing + next) / 2);
      swing = next;
    }
  }

  private static double square(double x) {
    return x * x;
  }
}
