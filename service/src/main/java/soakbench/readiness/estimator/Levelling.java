package soakbench.readiness.estimator;

import java.util.List;
import soakbench.numerics.RelaxationMixture;

/** Where the filters see the body level off if its room kept the level that it has. */
final class Levelling {
  private Levelling() {}

  /** The body's relaxation from the newest block on, degC; without the swing of the room. */
  static RelaxationMixture of(List<WeighedFilter> parts) {
    int n = parts.size();
    double[] tauS = new double[n];
    double[] weight = new double[n];
    double[][] given = new double[5][n];
    for (int i = 0; i < n; i++) {
      Belief b = parts.get(i).member().belief();
      double k = Thermal.inverse(b.means());
      weight[i] = parts.get(i).share();
      tauS[i] = 1 / k;
      put(b, k, given, i);
    }
    return new RelaxationMixture(
        tauS,
        weight,
        new RelaxationMixture.Given(given[0], given[1], given[2], given[3], given[4]));
  }

  /** With body c, slope s and k = 1 / tau the distance is D = -s / k and the plateau c - D. */
  private static void put(Belief b, double k, double[][] given, int i) {
    double s = b.mean(Thermal.SLOPE);
    double byS = -1 / k;
    double byK = s / (k * k);
    double variance =
        byS * byS * b.cov(Thermal.SLOPE, Thermal.SLOPE)
            + byK * byK * b.cov(Thermal.INVERSE, Thermal.INVERSE)
            + 2 * byS * byK * b.cov(Thermal.SLOPE, Thermal.INVERSE);
    double withBody =
        byS * b.cov(Thermal.BODY, Thermal.SLOPE) + byK * b.cov(Thermal.BODY, Thermal.INVERSE);
    given[0][i] = b.mean(Thermal.BODY) + s / k;
    given[1][i] = -s / k;
    given[2][i] = b.cov(Thermal.BODY, Thermal.BODY) + variance - 2 * withBody;
    given[3][i] = variance;
    given[4][i] = withBody - variance;
  }
}
