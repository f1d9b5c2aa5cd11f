package soakbench.readiness.estimator;

import java.util.Arrays;

/**
 * One pair of a time constant and a swing that the bank believes possible, with all that can be
 * worked out of it beforehand. The same for all trackers.
 */
final class RoomModel {
  /** How often on its way the shift is looked at. */
  static final int HORIZONS = 3;

  private final double tauS;
  private final double spread;
  private final double aheadS;
  private final Swing swing;
  private final double swingVariance;
  private final double prior;
  private final double priorAhead;
  private final Discrete block;
  private final Discrete ahead;
  private final double[][] swingLater = new double[HORIZONS][];
  private final double[] unforeseen = new double[HORIZONS];
  private final double[][] chipLater = new double[HORIZONS][];
  private final double[] settledLater = new double[HORIZONS];

  /**
   * @param tauS centre of the time constants that it stands for, s
   * @param spread standard deviation of their logarithm
   * @param prior how much the pair is believed beforehand
   * @param aheadS how far ahead the shift is looked at, s
   */
  RoomModel(double tauS, double spread, Swing swing, double prior, double aheadS) {
    this.tauS = tauS;
    this.aheadS = aheadS;
    this.spread = spread;
    this.swing = swing;
    this.swingVariance = Math.pow(swing.sdC() / tauS, 2);
    this.prior = prior;
    this.priorAhead = prior;
    this.block = summed(swing, Blocks.BLOCK_S);
    this.ahead = summed(swing, Forecast.STEP_S);
    double[][] drift = swing.drift();
    double[][] noise = {{0, 0, 0}, {0, 0, 0}, {0, 0, swing.density()}};
    double k = 1 / tauS;
    double[][] body = {{-k, 1, 0}, {0, 0, 1}, {0, drift[1][0], drift[1][1]}};
    for (int i = 0; i < HORIZONS; i++) {
      double seconds = aheadS(i);
      chipLater[i] = Arrays.stream(Thermal.CHIP_S).map(s -> Math.exp(-seconds / s) - 1).toArray();
      settledLater[i] = Math.exp(-seconds / Axis.SETTLING_S) - 1;
      swingLater[i] = Discrete.of(drift, new double[2][2], aheadS(i)).move();
      double level = Thermal.LEVEL_DENSITY * k * k * Math.pow(aheadS(i), 3) / 3;
      unforeseen[i] = Discrete.of(body, noise, aheadS(i)).stir()[0] * swingVariance() + level;
    }
  }

  /** The same pair, believed otherwise by who looks ahead. */
  RoomModel believedAhead(double otherPrior) {
    return new RoomModel(this, otherPrior);
  }

  private RoomModel(RoomModel other, double priorAhead) {
    this.tauS = other.tauS;
    this.aheadS = other.aheadS;
    this.spread = other.spread;
    this.swing = other.swing;
    this.swingVariance = other.swingVariance;
    this.prior = other.prior;
    this.priorAhead = priorAhead;
    this.block = other.block;
    this.ahead = other.ahead;
    System.arraycopy(other.swingLater, 0, swingLater, 0, swingLater.length);
    System.arraycopy(other.unforeseen, 0, unforeseen, 0, unforeseen.length);
    System.arraycopy(other.chipLater, 0, chipLater, 0, chipLater.length);
    System.arraycopy(other.settledLater, 0, settledLater, 0, settledLater.length);
  }

  /** The swing's model with its sum over the step as first entry. */
  private static Discrete summed(Swing swing, double seconds) {
    double[][] a = swing.drift();
    double[][] drift = {{0, 1, 0}, {0, 0, 1}, {0, a[1][0], a[1][1]}};
    double[][] noise = {{0, 0, 0}, {0, 0, 0}, {0, 0, swing.density()}};
    return Discrete.of(drift, noise, seconds);
  }

  double tauS() {
    return tauS;
  }

  /** How far ahead a horizon lies, s. */
  double aheadS(int horizon) {
    return aheadS * (horizon + 1) / HORIZONS;
  }

  double prior() {
    return prior;
  }

  /** The same for who looks ahead, and heeds earlier soaks. */
  double priorAhead() {
    return priorAhead;
  }

  Swing swing() {
    return swing;
  }

  /** The swing over a block. */
  Discrete block() {
    return block;
  }

  /** The swing over a step of the forecast. */
  Discrete ahead() {
    return ahead;
  }

  /** Variance of the swing's part of the slope, (degC/s)^2. */
  double swingVariance() {
    return swingVariance;
  }

  /** By what part of itself an axis' settling will have changed at a horizon. */
  double settled(int horizon) {
    return settledLater[horizon];
  }

  /** What the room may yet do to the body's temperature by then, which nobody can know, degC^2. */
  double unforeseen(int horizon) {
    return unforeseen[horizon];
  }

  /**
   * How the temperature's change until a horizon follows from the state.
   *
   * @param inverse 1 / tau, 1/s
   * @param s the steady slope, degC/s
   * @param row its parts; as long as the whole state
   */
  void changeRow(int horizon, double inverse, double s, double[] row) {
    double seconds = aheadS(horizon);
    double k = Math.max(1.0 / 20_000, inverse);
    double stay = Math.exp(-k * seconds);
    row[Thermal.BODY] = 0;
    row[Thermal.SLOPE] = (1 - stay) / k;
    row[Thermal.INVERSE] = s * (seconds * stay * k - (1 - stay)) / (k * k);
    System.arraycopy(chipLater[horizon], 0, row, Thermal.CHIP, Thermal.CHIP_PARTS);
    double w = swing.rate();
    double b = -2 * swing.damping() * w;
    double det = k * (k + b) + w * w;
    double[] e = swingLater[horizon];
    double p = e[0] - stay;
    double q = e[1];
    // (p, q) times the inverse of ((k, 1), (-w^2, k + b))
    row[Thermal.SWING] = (p * (k + b) + q * w * w) / det;
    row[Thermal.SWING_RATE] = (-p + q * k) / det;
  }

  /** The change until a horizon for given thermal entries, without the derivative by 1 / tau. */
  double change(int horizon, double[] state, double[] row) {
    return row[Thermal.SLOPE] * state[Thermal.SLOPE]
        + row[Thermal.SWING] * state[Thermal.SWING]
        + row[Thermal.SWING_RATE] * state[Thermal.SWING_RATE]
        + row[Thermal.CHIP] * state[Thermal.CHIP]
        + row[Thermal.CHIP + 1] * state[Thermal.CHIP + 1]
        + row[Thermal.CHIP + 2] * state[Thermal.CHIP + 2];
  }

  /** What is believed before the first reading, degC. */
  void begin(Belief state, double firstC) {
    double k = 1 / tauS;
    double bodyC = firstC + EXCESS_C;
    double kSd = spread * k;
    state.setMean(Thermal.BODY, bodyC);
    state.setMean(Thermal.SLOPE, (LEVEL_C - bodyC) * k);
    state.setMean(Thermal.INVERSE, k);
    for (int i = 0; i < Thermal.CHIP_PARTS; i++) {
      state.setMean(Thermal.CHIP + i, -EXCESS_C / Thermal.CHIP_PARTS);
      state.widen(Thermal.CHIP + i, START_SD_C);
    }
    state.widen(Thermal.BODY, START_SD_C);
    state.widen(Thermal.SLOPE, Math.hypot(LEVEL_SD_C * k, (LEVEL_C - bodyC) * kSd));
    state.addCov(Thermal.SLOPE, Thermal.INVERSE, (LEVEL_C - bodyC) * kSd * kSd);
    state.widen(Thermal.SWING, Math.sqrt(swingVariance()));
    state.widen(Thermal.SWING_RATE, Math.sqrt(swingVariance()) * swing.rate());
    state.widen(Thermal.INVERSE, kSd);
  }

  /** A chip that was just switched on has some of its own warmth still to come. */
  private static final double EXCESS_C = 0.5;

  private static final double START_SD_C = 1.5;

  /** The band's middle: where people warm trackers to. */
  private static final double LEVEL_C = 31;

  private static final double LEVEL_SD_C = 5;

  /** Somebody did something: the surroundings may be others by so much, degC. */
  void widenLevel(Belief state, double sdC) {
    state.widen(Thermal.SLOPE, sdC / tauS);
  }
}
