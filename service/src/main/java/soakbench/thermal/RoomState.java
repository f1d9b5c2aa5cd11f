package soakbench.thermal;

import java.util.Arrays;

/**
 * One filter of a {@link RoomFilter}: mean and covariance of
 *
 * <ul>
 *   <li>the body's temperature c, degC,
 *   <li>its steady slope s = (P - c) / tau, degC/s, P the constant part of its surroundings,
 *   <li>what their swing adds to the slope, w, degC/s,
 *   <li>1/tau, 1/s: with the slope seen well, the law is nearly linear in it, unlike in tau and P,
 *   <li>the chip's own transient u, degC, and 1 over its time constant, 1/s.
 * </ul>
 *
 * <p>An extended Kalman filter: c' = s + w, s' = -(s + w) / tau, u' = -u / chip, and w a {@link
 * RoomSwing}. A reading is the body plus the transient.
 */
final class RoomState {
  private static final int BODY = 0;
  private static final int SLOPE = 1;
  private static final int SWING = 2;
  private static final int SWING_SLOPE = 3;
  private static final int INVERSE = 4;
  private static final int CHIP = 5;
  private static final int CHIP_INVERSE = 6;
  private static final int N = 7;
  private static final double START_SD_C = 3;

  /** A chip warms itself by some degrees (common practice, no source). */
  private static final double TRANSIENT_C = -1.8;

  private static final double TRANSIENT_SD_C = 1.3;
  private static final double STUDENT = 4;
  private static final double SLOWEST = 1.0 / 20_000;

  private final double swingDpS;
  private final double centre;
  private final double swingC;
  private final double[] mean = new double[N];
  private final double[][] cov = new double[N][N];
  private final double[] with = new double[N];
  private int n = N;

  /**
   * @param tauS centre of the time constants that it stands for, s
   * @param chipS centre of the chip's
   * @param spread standard deviation of one over either, as a part of it
   * @param swingC standard deviation of the surroundings' swing, degC
   * @param firstC first reading, degC
   */
  RoomState(
      double tauS,
      double chipS,
      double spread,
      double swingC,
      double firstC,
      double plateauC,
      double plateauSdC) {
    this.centre = 1 / tauS;
    this.swingC = swingC;
    this.swingDpS = swingC / tauS;
    mean[BODY] = firstC - TRANSIENT_C;
    mean[SLOPE] = (plateauC - firstC) / tauS;
    mean[INVERSE] = centre;
    double inverseSd = spread * centre;
    cov[BODY][BODY] = square(START_SD_C);
    cov[SLOPE][SLOPE] = square(plateauSdC / tauS) + square((plateauC - firstC) * inverseSd);
    cov[SLOPE][INVERSE] = (plateauC - firstC) * square(inverseSd);
    cov[INVERSE][SLOPE] = cov[SLOPE][INVERSE];
    cov[SWING][SWING] = square(swingDpS);
    cov[SWING_SLOPE][SWING_SLOPE] = square(swingDpS * RoomSwing.slopeSd());
    cov[INVERSE][INVERSE] = square(inverseSd);
    mean[CHIP] = TRANSIENT_C;
    cov[CHIP][CHIP] = square(TRANSIENT_SD_C);
    mean[CHIP_INVERSE] = 1 / chipS;
    cov[CHIP_INVERSE][CHIP_INVERSE] = square(spread / chipS);
  }

  private static double square(double x) {
    return x * x;
  }

  /** Goes on by a step that is short beside the time constants. */
  void predict(double seconds, RoomSwing swing) {
    double[][] f = move(seconds, swing.move());
    moveMean(f);
    moveCovariance(f);
    for (int i = 0; i < 2; i++) {
      for (int j = 0; j < 2; j++) {
        cov[SWING + i][SWING + j] += swingDpS * swingDpS * swing.stir()[i][j];
      }
    }
  }

  /** The law itself, in which one over a time constant is a factor, not a term. */
  private void moveMean(double[][] f) {
    double[] m = new double[n];
    for (int i = 0; i < n; i++) {
      for (int k = 0; k < n; k++) {
        boolean factor = i != k && (k == INVERSE || k == CHIP_INVERSE);
        m[i] += factor ? 0 : f[i][k] * mean[k];
      }
    }
    System.arraycopy(m, 0, mean, 0, n);
  }

  private void moveCovariance(double[][] f) {
    double[][] half = new double[n][n];
    for (int i = 0; i < n; i++) {
      for (int k = 0; k < n; k++) {
        double fik = f[i][k];
        for (int j = 0; fik != 0 && j < n; j++) {
          half[i][j] += fik * cov[k][j];
        }
      }
    }
    for (int i = 0; i < n; i++) {
      Arrays.fill(cov[i], 0, n, 0);
      for (int j = 0; j < n; j++) {
        for (int k = 0; k < n; k++) {
          cov[i][j] += half[i][k] * f[j][k];
        }
      }
    }
  }

  /** Derivatives of the next state by this one. */
  private double[][] move(double seconds, double[][] swing) {
    double[][] f = new double[n][n];
    double inverse = Math.max(SLOWEST, mean[INVERSE]);
    double stay = Math.exp(-seconds * inverse);
    double over = (1 - stay) / inverse;
    double drive = mean[SLOPE] + mean[SWING];
    f[BODY][BODY] = 1;
    f[BODY][SLOPE] = over;
    f[BODY][SWING] = over;
    f[BODY][SWING_SLOPE] = over * seconds / 2;
    f[BODY][INVERSE] = -drive * seconds * seconds / 2;
    f[SLOPE][SLOPE] = stay;
    f[SLOPE][SWING] = -inverse * over;
    f[SLOPE][SWING_SLOPE] = -inverse * over * seconds / 2;
    f[SLOPE][INVERSE] = -drive * seconds * stay;
    for (int i = 0; i < 2; i++) {
      f[SWING + i][SWING] = swing[i][0];
      f[SWING + i][SWING_SLOPE] = swing[i][1];
    }
    f[INVERSE][INVERSE] = 1;
    if (n == N) {
      double left = Math.exp(-seconds * Math.max(0, mean[CHIP_INVERSE]));
      f[CHIP][CHIP] = left;
      f[CHIP][CHIP_INVERSE] = -seconds * left * mean[CHIP];
      f[CHIP_INVERSE][CHIP_INVERSE] = 1;
    }
    return f;
  }

  /** The chip's transient is over. */
  void settle() {
    n = CHIP;
  }

  double expectedC() {
    return n == N ? mean[BODY] + mean[CHIP] : mean[BODY];
  }

  /** Variance of what the next reading would be without noise. */
  double expectedVariance() {
    for (int i = 0; i < n; i++) {
      with[i] = n == N ? cov[i][BODY] + cov[i][CHIP] : cov[i][BODY];
    }
    return n == N ? with[BODY] + with[CHIP] : with[BODY];
  }

  /** Logarithm of how likely a reading is; a Student law's, lest one odd reading decide. */
  double evidence(double temperatureC, double noiseVariance) {
    double error = temperatureC - expectedC();
    double variance = expectedVariance() + noiseVariance;
    return -0.5 * Math.log(variance)
        - (STUDENT + 1) / 2 * Math.log1p(error * error / variance / STUDENT);
  }

  /** Takes a reading. */
  void update(double temperatureC, double noiseVariance) {
    double error = temperatureC - expectedC();
    double variance = expectedVariance() + noiseVariance;
    for (int i = 0; i < n; i++) {
      double gain = with[i] / variance;
      mean[i] += gain * error;
      for (int j = 0; j < n; j++) {
        cov[i][j] -= gain * with[j];
      }
    }
  }

  /** Somebody did something: the surroundings may be others, and the body a little off. */
  void disturb(double surroundingsC, double bodyC) {
    cov[SLOPE][SLOPE] += square(surroundingsC * centre);
    cov[BODY][BODY] += square(bodyC);
  }

  RoomOutlook.Part part(double weight) {
    double[][] c = new double[CHIP][];
    for (int i = 0; i < CHIP; i++) {
      c[i] = Arrays.copyOf(cov[i], CHIP);
    }
    return new RoomOutlook.Part(weight, swingC, Arrays.copyOf(mean, CHIP), c);
  }
}
