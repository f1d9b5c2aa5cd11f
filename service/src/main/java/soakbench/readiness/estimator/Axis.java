package soakbench.readiness.estimator;

/**
 * One axis' part of a state, six entries from a given place on: {@link #BIAS} its bias at the
 * reference temperature, deg/s, {@link #SLOPE} and {@link #BEND} first and second derivative there,
 * two first-order processes that make its flicker, and what still settles after power-on.
 *
 * <p>The reference moves with the temperature. On its way the curve may bend by chance, so that it
 * is a smoothing spline in temperature, known best where the tracker is now.
 */
final class Axis {
  static final int BIAS = 0;
  static final int SLOPE = 1;
  static final int BEND = 2;
  static final int QUICK = 3;
  static final int SLOW = 4;
  static final int SETTLING = 5;
  static final int SIZE = 6;

  static final double SETTLING_S = 300;

  /**
   * No unit settles by just this constant: what it strays, as a part of itself, per root second.
   */
  private static final double SETTLING_STRAY = 0.01;

  private static final double QUICK_S = 60;
  private static final double SLOW_S = 500;
  private static final Left AFTER_BLOCK = Left.after(Blocks.BLOCK_S);
  private static final Left AFTER_STEP = Left.after(Forecast.STEP_S);

  /** How the slope strays along the curve, deg/s per degC per square root of a degC. */
  private static final double STRAY = 0.0005;

  /** How the bend does, deg/s per degC^2 per square root of a degC. */
  private static final double BEND_STRAY = 0.0003;

  private static final double START_BIAS_DPS = 0.3;
  private static final double START_SLOPE = 0.05;
  private static final double START_BEND = 0.0015;
  static final double START_SETTLING_DPS = 0.03;

  /** What a gyro reads at the reference temperature, where an axis is alone in its state. */
  static final Belief.Sum READING = new Belief.Sum(BIAS, QUICK, SLOW, SETTLING);

  private Axis() {}

  /**
   * Variance of each of the two processes. Together they hold that of flicker noise between their
   * ends, whose density is B^2 / (2 pi f).
   *
   * @param flickerDegPerH B: Allan floor / 0.664
   */
  static double flickerVariance(double flickerDegPerH) {
    double dps = flickerDegPerH / 3600;
    return dps * dps / Math.PI * Math.log(SLOW_S / QUICK_S) / 2;
  }

  /** What is believed before the first reading. */
  static void begin(Belief state, int at, double flickerDegPerH, double firstDps) {
    double flicker = Math.sqrt(flickerVariance(flickerDegPerH));
    state.setMean(at + BIAS, firstDps);
    state.widen(at + BIAS, START_BIAS_DPS);
    state.widen(at + SLOPE, START_SLOPE);
    state.widen(at + BEND, START_BEND);
    state.widen(at + QUICK, flicker);
    state.widen(at + SLOW, flicker);
    state.widen(at + SETTLING, START_SETTLING_DPS);
  }

  /**
   * What is left of each process after a time; the lengths that are asked for are worked out once.
   */
  private record Left(double quick, double slow, double settling) {
    static Left after(double seconds) {
      return new Left(
          Math.exp(-seconds / QUICK_S),
          Math.exp(-seconds / SLOW_S),
          Math.exp(-seconds / SETTLING_S));
    }

    static Left of(double seconds) {
      return seconds == Blocks.BLOCK_S
          ? AFTER_BLOCK
          : seconds == Forecast.STEP_S ? AFTER_STEP : after(seconds);
    }
  }

  /** Goes on by a time in which the temperature stays. */
  static void predict(Belief state, int at, double flickerVariance, double seconds) {
    Left left = Left.of(seconds);
    state.decay(at + QUICK, left.quick, flickerVariance * (1 - left.quick * left.quick));
    state.decay(at + SLOW, left.slow, flickerVariance * (1 - left.slow * left.slow));
    double strays = SETTLING_STRAY * state.mean(at + SETTLING);
    state.decay(at + SETTLING, left.settling, strays * strays * seconds);
    // What is slower than either, down to a period of fifty minutes.
    double walk = flickerVariance * 4 / 3000 + 1e-10;
    state.addCov(at + BIAS, at + BIAS, walk * seconds);
  }

  /** Moves the reference temperature; the curve stays where it is, and may bend on the way. */
  static void moveReference(Belief state, int at, double byC) {
    state.shear(at + BIAS, at + SLOPE, byC);
    state.shear(at + BIAS, at + BEND, byC * byC / 2);
    state.shear(at + SLOPE, at + BEND, byC);
    double way = Math.abs(byC);
    state.widen(at + SLOPE, STRAY * Math.sqrt(way));
    state.widen(at + BEND, BEND_STRAY * Math.sqrt(way));
    state.widen(at + BIAS, STRAY * Math.sqrt(way * way * way / 3));
  }

  /** The parts of a reading at the reference temperature. */
  static void readingRow(int at, double[] row) {
    row[at + BIAS] = 1;
    row[at + QUICK] = 1;
    row[at + SLOW] = 1;
    row[at + SETTLING] = 1;
  }
}
