package soakbench.readiness.estimator;

import java.io.Serializable;

/**
 * One filter of the bank: what is known of body and room if its time constant and its swing are the
 * true ones; with a coarse thermometer also of the axes, so that the rates tell the temperature.
 */
final class Member implements Serializable {
  private transient RoomModel model;
  private final double flickerVariance;
  private final Belief belief;
  private final transient double[] row;
  private final transient double[] move = new double[Thermal.SIZE * Thermal.SIZE];
  private final transient double[] stir = new double[Thermal.SIZE * Thermal.SIZE];
  private final transient double[] lead;

  /** Body and room alone. */
  Member(RoomModel model, double firstC) {
    this.model = model;
    this.flickerVariance = 0;
    this.belief = new Belief(new double[Thermal.SIZE], new double[Thermal.SIZE]);
    this.row = new double[Thermal.SIZE];
    this.lead = new double[Thermal.LEADS * Thermal.SIZE];
    model.begin(belief, firstC);
  }

  /** With the axes. */
  Member(RoomModel model, double firstC, double flickerDegPerH, double[] firstDps) {
    int n = at(firstDps.length);
    this.model = model;
    this.flickerVariance = Axis.flickerVariance(flickerDegPerH);
    this.belief = new Belief(new double[n], new double[n]);
    this.row = new double[n];
    this.lead = new double[Thermal.LEADS * n];
    model.begin(belief, firstC);
    for (int i = 0; i < firstDps.length; i++) {
      Axis.begin(belief, at(i), flickerDegPerH, firstDps[i]);
    }
  }

  /** Where an axis' entries begin. */
  static int at(int axis) {
    return Thermal.SIZE + axis * Axis.SIZE;
  }

  private Member(Member other) {
    this.model = other.model;
    this.flickerVariance = other.flickerVariance;
    this.belief = other.belief.copy();
    this.row = new double[belief.size()];
    this.lead = new double[Thermal.LEADS * belief.size()];
  }

  Member copy() {
    return new Member(this);
  }

  /** What it only works with is not kept, nor what is the same for all trackers. */
  private Object readResolve() {
    return copy();
  }

  /** The model of one that was kept. */
  void follow(RoomModel its) {
    model = its;
  }

  RoomModel model() {
    return model;
  }

  Belief belief() {
    return belief;
  }

  boolean withAxes() {
    return belief.size() > Thermal.SIZE;
  }

  /** What the thermometer is expected to read, degC. */
  double temperatureC() {
    return Thermal.temperatureC(belief.means());
  }

  /**
   * Goes on by a step.
   *
   * @param swing the model's swing over it
   * @param chipSdC what the chip may do beside dying away, degC
   */
  void predict(Discrete swing, double seconds, double chipSdC) {
    double k = Thermal.inverse(belief.means());
    double mid = Thermal.mid(k, seconds);
    Thermal.stir(k, swing, seconds, mid, model.swingVariance(), chipSdC * chipSdC, stir);
    Thermal.step(belief.means(), swing, seconds, mid, move);
    Thermal.carry(belief, move, stir, lead);
    for (int at = Thermal.SIZE; at < belief.size(); at += Axis.SIZE) {
      Axis.predict(belief, at, flickerVariance, seconds);
    }
  }

  double innovation(Reading reading) {
    return reading.innovation(belief);
  }

  /** Corrects by a reading; the logarithm of how likely it was. */
  double update(Reading reading) {
    return reading.update(belief);
  }

  /** Power may have come or gone: the chip may be off by so much, degC. */
  void widenChip(double sdC) {
    for (int i = 0; i < Thermal.CHIP_PARTS; i++) {
      belief.widen(Thermal.CHIP + i, sdC / Math.sqrt(Thermal.CHIP_PARTS));
    }
  }

  /** Variance of the temperature, degC^2. */
  double temperatureVariance() {
    return belief.varianceOf(Thermal.READING);
  }

  /**
   * Corrects by an axis' rate, linear about the temperature that this filter believes in.
   *
   * @param referenceC what the curve is about
   * @param variance of the rate, (deg/s)^2
   * @return the logarithm of how likely it was
   */
  double update(int axis, double referenceC, double rateDps, double variance) {
    double more = rateRow(axis, referenceC);
    return belief.update(row, rateDps - expectedDps(axis, referenceC), variance + more);
  }

  /** How far off its expectation a rate is, in standard deviations. */
  double innovation(int axis, double referenceC, double rateDps, double variance) {
    double more = rateRow(axis, referenceC);
    double sd = Math.sqrt(belief.varianceOf(row) + variance + more);
    return Math.abs(rateDps - expectedDps(axis, referenceC)) / sd;
  }

  private double expectedDps(int axis, double referenceC) {
    int at = at(axis);
    double x = temperatureC() - referenceC;
    return belief.mean(at + Axis.BIAS)
        + x * (belief.mean(at + Axis.SLOPE) + x / 2 * belief.mean(at + Axis.BEND))
        + belief.mean(at + Axis.QUICK)
        + belief.mean(at + Axis.SLOW)
        + belief.mean(at + Axis.SETTLING);
  }

  /** Puts the parts of a rate; the variance that the product of two unknowns adds. */
  private double rateRow(int axis, double referenceC) {
    int at = at(axis);
    double x = temperatureC() - referenceC;
    double temperature = temperatureVariance();
    double steep = belief.mean(at + Axis.SLOPE) + x * belief.mean(at + Axis.BEND);
    java.util.Arrays.fill(row, 0);
    Thermal.temperatureRow(steep, row);
    Axis.readingRow(at, row);
    row[at + Axis.SLOPE] = x;
    row[at + Axis.BEND] = x * x / 2;
    return belief.cov(at + Axis.SLOPE, at + Axis.SLOPE) * temperature;
  }

  /** Takes readings that are as expected; see {@link Belief#confirm}. */
  double[] confirm(Reading like, int blocks) {
    double sd = like.bounds() ? 0.3 * (like.highC() - like.lowC()) : like.sdC();
    return belief.confirm(Thermal.READING, sd * sd / blocks);
  }

  /** The same of an axis' rate, with the reference at the temperature. */
  double[] confirm(int axis, double variance) {
    double more = rateRow(axis, temperatureC());
    return belief.confirm(row, variance + more);
  }

  void moveReference(double byC) {
    for (int at = Thermal.SIZE; at < belief.size(); at += Axis.SIZE) {
      Axis.moveReference(belief, at, byC);
    }
  }
}
