package soakbench.readiness.estimator;

import java.util.Arrays;

/**
 * The thermal part of a state, its first six entries:
 *
 * <ul>
 *   <li>{@link #BODY} the body's temperature c, degC,
 *   <li>{@link #SLOPE} its steady slope s = (P - c) / tau, degC/s, P the level of its surroundings
 *       with its own warmth,
 *   <li>{@link #SWING} what the swing of the surroundings adds to the slope, degC/s, and {@link
 *       #SWING_RATE} how fast that changes,
 *   <li>{@link #INVERSE} 1 / tau, 1/s,
 *   <li>from {@link #CHIP} on, what the chip is warmer than when it has followed the body, degC:
 *       parts from quick to slow, whose mixture stands for any chip.
 * </ul>
 *
 * <p>With the slope in place of the level the model is nearly linear in 1 / tau: a slope is seen
 * directly, a level and a time constant only by their ratio. Newton's law of cooling, lumped heat
 * capacity.
 */
final class Thermal {
  static final int BODY = 0;
  static final int SLOPE = 1;
  static final int SWING = 2;
  static final int SWING_RATE = 3;
  static final int INVERSE = 4;
  static final int CHIP = 5;
  static final int CHIP_PARTS = 3;
  static final int SIZE = CHIP + CHIP_PARTS;

  /** Entries that are made of others in a step; what follows is left as it is, or dies away. */
  static final int LEADS = 4;

  /** How fast chips follow their bodies, s (common practice: 15 to 45 s, no source). */
  static final double[] CHIP_S = {16, 26, 42};

  private static final double[] LEFT_AFTER_BLOCK = left(Blocks.BLOCK_S);
  private static final double[] LEFT_AFTER_STEP = left(Forecast.STEP_S);

  /** No body is slower than this, 1/s. */
  private static final double SLOWEST = 1.0 / 20_000;

  /** How the level of the surroundings drifts, degC^2/s: 0.04 degC in an hour. */
  static final double LEVEL_DENSITY = Math.pow(0.3 / 3600, 2) * 60;

  /** What the thermometer reads. */
  static final Belief.Sum READING = new Belief.Sum(BODY, CHIP, CHIP + 1, CHIP + 2);

  private Thermal() {}

  /** The temperature that the thermometer sees, degC. */
  static double temperatureC(double[] state) {
    return state[BODY] + state[CHIP] + state[CHIP + 1] + state[CHIP + 2];
  }

  /** How fast it changes, degC/s. */
  static double rateCPerS(double[] state) {
    return state[SLOPE]
        + state[SWING]
        - state[CHIP] / CHIP_S[0]
        - state[CHIP + 1] / CHIP_S[1]
        - state[CHIP + 2] / CHIP_S[2];
  }

  /**
   * Puts the parts of the temperature.
   *
   * @param weight by which each counts
   */
  static void temperatureRow(double weight, double[] row) {
    row[BODY] = weight;
    for (int i = 0; i < CHIP_PARTS; i++) {
      row[CHIP + i] = weight;
    }
  }

  /** Puts the parts of the temperature's rate. */
  static void rateRow(double[] row) {
    row[SLOPE] = 1;
    row[SWING] = 1;
    for (int i = 0; i < CHIP_PARTS; i++) {
      row[CHIP + i] = -1 / CHIP_S[i];
    }
  }

  static double inverse(double[] state) {
    return Math.max(SLOWEST, state[INVERSE]);
  }

  /**
   * Goes on by a step: the model itself in {@code state}, its derivatives in {@code move}.
   *
   * @param state the thermal entries, changed
   * @param swing the swing's step, about (sum over the step, value, slope)
   * @param seconds the step's length
   * @param move derivatives of the next state by this one, by rows; null where not wanted
   */
  static void step(double[] state, Discrete swing, double seconds, double[] move) {
    step(state, swing, seconds, mid(inverse(state), seconds), move);
  }

  /** What is left of a distance from the level in the middle of a step. */
  static double mid(double k, double seconds) {
    return Math.exp(-k * seconds / 2);
  }

  /** The same with {@link #mid} of it. */
  static void step(double[] state, Discrete swing, double seconds, double mid, double[] move) {
    double k = inverse(state);
    double s = state[SLOPE];
    double stay = Math.exp(-k * seconds);
    double over = (1 - stay) / k;
    double[] f = swing.move();
    double sum = f[1] * state[SWING] + f[2] * state[SWING_RATE];
    if (move != null) {
      fill(move, f, mid, k);
      move[BODY * SIZE + SLOPE] = over;
      move[BODY * SIZE + INVERSE] =
          s * (seconds * stay * k - (1 - stay)) / (k * k) - seconds / 2 * mid * sum;
      move[SLOPE * SIZE + SLOPE] = stay;
      move[SLOPE * SIZE + INVERSE] = -s * seconds * stay - mid * sum * (1 - k * seconds / 2);
    }
    state[BODY] += s * over + mid * sum;
    state[SLOPE] = s * stay - k * mid * sum;
    double value = state[SWING];
    state[SWING] = f[4] * value + f[5] * state[SWING_RATE];
    state[SWING_RATE] = f[7] * value + f[8] * state[SWING_RATE];
    double[] lefts = chipLeft(seconds);
    for (int i = 0; i < CHIP_PARTS; i++) {
      double left = lefts[i];
      state[CHIP + i] *= left;
      if (move != null) {
        move[(CHIP + i) * (SIZE + 1)] = left;
      }
    }
  }

  /** What is left of each part after a step; the lengths that are asked for are worked out once. */
  private static double[] chipLeft(double seconds) {
    return seconds == Blocks.BLOCK_S
        ? LEFT_AFTER_BLOCK
        : seconds == Forecast.STEP_S ? LEFT_AFTER_STEP : left(seconds);
  }

  private static double[] left(double seconds) {
    return Arrays.stream(CHIP_S).map(s -> Math.exp(-seconds / s)).toArray();
  }

  private static void fill(double[] move, double[] f, double mid, double k) {
    move[BODY * SIZE + BODY] = 1;
    move[INVERSE * SIZE + INVERSE] = 1;
    for (int j = 0; j < 2; j++) {
      move[BODY * SIZE + SWING + j] = mid * f[1 + j];
      move[SLOPE * SIZE + SWING + j] = -k * mid * f[1 + j];
      move[SWING * SIZE + SWING + j] = f[4 + j];
      move[SWING_RATE * SIZE + SWING + j] = f[7 + j];
    }
  }

  /**
   * Covariance of what one step adds: its upper half, as it is symmetric.
   *
   * @param k 1 / tau, 1/s
   * @param mid of the step, {@link #mid}
   * @param swingVariance variance of the swing's part of the slope, (degC/s)^2
   * @param chipVariance what is added to the chip's slow part, degC^2
   */
  static void stir(
      double k,
      Discrete swing,
      double seconds,
      double mid,
      double swingVariance,
      double chipVariance,
      double[] out) {
    double[] q = swing.stir();
    double slope = -k * mid;
    out[BODY * SIZE + BODY] = mid * mid * q[0] * swingVariance;
    out[BODY * SIZE + SLOPE] = mid * slope * q[0] * swingVariance;
    out[SLOPE * SIZE + SLOPE] =
        slope * slope * q[0] * swingVariance + k * k * LEVEL_DENSITY * seconds;
    for (int j = 0; j < 2; j++) {
      double swings = q[1 + j];
      out[BODY * SIZE + SWING + j] = mid * swings * swingVariance;
      out[SLOPE * SIZE + SWING + j] = slope * swings * swingVariance;
      out[SWING * SIZE + SWING + j] = q[4 + j] * swingVariance;
      out[SWING_RATE * SIZE + SWING + j] = q[7 + j] * swingVariance;
    }
    out[SIZE * SIZE - 1] = chipVariance;
  }

  /**
   * Carries the covariance of a whole state on by a step of its thermal entries; the others stay.
   * Most of a step's transition is nothing: this is where a judge spends most of its time.
   *
   * @param move as {@link #step} puts it
   * @param stir as {@link #stir} puts it
   * @param rows room for {@link #LEADS} rows of the state
   */
  static void carry(Belief state, double[] move, double[] stir, double[] rows) {
    int n = state.size();
    double[] cov = state.covariance();
    leadRows(cov, n, move, rows);
    for (int i = INVERSE + 1; i < SIZE; i++) {
      double left = move[i * (SIZE + 1)];
      int at = i * n;
      for (int j = INVERSE; j < n; j++) {
        cov[at + j] *= left;
        cov[j * n + i] *= left;
      }
      cov[at + i] += stir[i * (SIZE + 1)];
    }
    for (int i = 0; i < LEADS; i++) {
      leadRow(i, cov, n, move, stir, rows);
    }
  }

  /** The first four rows of transition times covariance. */
  private static void leadRows(double[] cov, int n, double[] m, double[] rows) {
    double bodyBySlope = m[SLOPE];
    double bodyBySwing = m[SWING];
    double bodyByRate = m[SWING_RATE];
    double bodyByInverse = m[INVERSE];
    double slopeBySlope = m[SIZE + SLOPE];
    double slopeBySwing = m[SIZE + SWING];
    double slopeByRate = m[SIZE + SWING_RATE];
    double slopeByInverse = m[SIZE + INVERSE];
    double swingBySwing = m[2 * SIZE + SWING];
    double swingByRate = m[2 * SIZE + SWING_RATE];
    double rateBySwing = m[3 * SIZE + SWING];
    double rateByRate = m[3 * SIZE + SWING_RATE];
    for (int j = 0; j < n; j++) {
      double slope = cov[n + j];
      double swing = cov[2 * n + j];
      double rate = cov[3 * n + j];
      double inverse = cov[4 * n + j];
      rows[j] =
          cov[j]
              + bodyBySlope * slope
              + bodyBySwing * swing
              + bodyByRate * rate
              + bodyByInverse * inverse;
      rows[n + j] =
          slopeBySlope * slope
              + slopeBySwing * swing
              + slopeByRate * rate
              + slopeByInverse * inverse;
      rows[2 * n + j] = swingBySwing * swing + swingByRate * rate;
      rows[3 * n + j] = rateBySwing * swing + rateByRate * rate;
    }
  }

  /** That times the transposed transition, for one of them. */
  private static void leadRow(
      int i, double[] cov, int n, double[] m, double[] stir, double[] rows) {
    int at = i * n;
    double slope = rows[at + SLOPE];
    double swing = rows[at + SWING];
    double rate = rows[at + SWING_RATE];
    double inverse = rows[at + INVERSE];
    for (int j = i; j < 2; j++) {
      int of = j * SIZE;
      double sum =
          stir[i * SIZE + j]
              + m[of + BODY] * rows[at]
              + m[of + SLOPE] * slope
              + m[of + SWING] * swing
              + m[of + SWING_RATE] * rate
              + m[of + INVERSE] * inverse;
      cov[at + j] = sum;
      cov[j * n + i] = sum;
    }
    for (int j = Math.max(i, SWING); j < LEADS; j++) {
      int of = j * SIZE;
      double sum = stir[i * SIZE + j] + m[of + SWING] * swing + m[of + SWING_RATE] * rate;
      cov[at + j] = sum;
      cov[j * n + i] = sum;
    }
    cov[at + INVERSE] = inverse;
    cov[INVERSE * n + i] = inverse;
    for (int j = INVERSE + 1; j < n; j++) {
      double value = j < SIZE ? m[j * (SIZE + 1)] * rows[at + j] : rows[at + j];
      cov[at + j] = value;
      cov[j * n + i] = value;
    }
  }
}
