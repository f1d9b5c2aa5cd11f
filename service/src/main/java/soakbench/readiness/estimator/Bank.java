package soakbench.readiness.estimator;

import java.io.Serializable;
import java.util.ArrayList;
import java.util.List;

/**
 * All filters of one tracker: one for each pair of a time constant and a swing of the room. With a
 * fine thermometer they hold body and room, and each axis has filters of its own with the
 * temperature given; with a coarse one every filter holds the axes too. Fed block by block; not
 * thread-safe.
 */
final class Bank implements Serializable {
  /** A filter whose word counts when a surprise is looked for. */
  static final double COUNTS = 0.02;

  private static final double LEAST_SHARE = 1e-4;
  private static final double LEAST_AHEAD = 1e-2;

  /** Sizes of flicker where each costs a filter of everything, deg/h. */
  private static final double[] JOINT_FLICKER_DEG_PER_H = {3, 8, 20};

  private static final double SURPRISE = 4.5;
  private static final double RATE_SURPRISE = 5;

  /** What a lid does to the surroundings, a hand to the body, power to the chip, degC. */
  private static final double LID_C = 1.5;

  private static final double HAND_C = 0.05;
  private static final double POWER_C = 0.5;

  /** No chip on a body is exactly two exponentials: what it strays in a block at first, degC. */
  private static final double CHIP_STRAY_C = 0.02;

  private static final double POSE_DPS = 0.01;

  /** What hands may change of an offset that the firmware takes off: anything, deg/s. */
  private static final double STORED_DPS = 1;

  private final boolean joint;
  private final Member[] members;
  private final Weights weights;
  private final double[] likely;
  private final AxisBank[] axes;
  private double referenceC;
  private double meanC = Double.NaN;
  private double powerS;
  private double surprisedS = Double.NEGATIVE_INFINITY;
  private double nowS;
  private boolean lost;
  private boolean rated;

  /**
   * Begins with a block that counts.
   *
   * @param models what is possible
   * @param joint whether the rates tell the temperature
   */
  Bank(List<RoomModel> models, boolean joint, Block first) {
    double firstC = first.reading().middleC();
    double[] firstDps = known(first.biasDps());
    double[] flickers = joint ? JOINT_FLICKER_DEG_PER_H : new double[1];
    this.joint = joint;
    members = new Member[models.size() * flickers.length];
    double[] prior = new double[members.length];
    double[] priorAhead = new double[members.length];
    int k = 0;
    for (RoomModel model : models) {
      for (double flicker : flickers) {
        members[k] =
            joint ? new Member(model, firstC, flicker, firstDps) : new Member(model, firstC);
        prior[k] = model.prior();
        priorAhead[k++] = model.priorAhead();
      }
    }
    weights = new Weights(prior, priorAhead);
    likely = new double[members.length];
    axes = new AxisBank[joint ? 0 : 3];
    for (int i = 0; i < axes.length; i++) {
      axes[i] = new AxisBank(firstDps[i]);
    }
    referenceC = firstC;
    nowS = first.endS();
    powerS = first.endS();
    correct(first);
  }

  /** The models of one that was kept: those that it began with. */
  void follow(List<RoomModel> models) {
    int each = members.length / models.size();
    for (int k = 0; k < members.length; k++) {
      members[k].follow(models.get(k / each));
    }
  }

  private static double[] known(double[] bias) {
    double[] out = bias.clone();
    for (int i = 0; i < out.length; i++) {
      out[i] = Double.isNaN(out[i]) ? 0 : out[i];
    }
    return out;
  }

  /** Takes the next block. */
  void accept(Block block) {
    nowS = block.endS();
    double seconds = Blocks.BLOCK_S;
    double age = nowS - powerS;
    double chipC = CHIP_STRAY_C * Math.exp(-age / 60);
    for (Member m : members) {
      m.predict(m.model().block(), seconds, chipC);
    }
    meanC = Double.NaN;
    for (AxisBank axis : axes) {
      axis.predict(seconds);
    }
    disturb(block);
    if (block.counts()) {
      correct(block);
    } else {
      lost = true;
      moveReference();
    }
  }

  /** What may have happened while it was not seen lying still. */
  private void disturb(Block block) {
    double gap = block.unheardS();
    if (block.booted()) {
      powerS = nowS;
      widenAxes(Axis.SETTLING, Axis.START_SETTLING_DPS);
      widenAxes(Axis.BIAS, 0.006);
    }
    if (gap >= 10 || block.booted()) {
      double chip = Math.max(block.booted() ? 0.5 : 0, Math.min(1.5, 0.02 * gap));
      for (Member m : members) {
        m.widenChip(chip);
        m.model().widenLevel(m.belief(), Math.min(2, 0.01 * gap));
        m.belief().widen(Thermal.BODY, Math.min(1, 0.01 * gap));
      }
    }
    if (block.moved()) {
      widenAxes(Axis.BIAS, block.counts() && !lost ? 0.006 : STORED_DPS);
    }
    if (block.counts()) {
      lost = false;
    }
  }

  private void widenAxes(int entry, double sd) {
    for (AxisBank axis : axes) {
      axis.widen(entry, sd);
    }
    for (int i = 0; joint && i < 3; i++) {
      for (Member m : members) {
        m.belief().widen(Member.at(i) + entry, sd);
      }
    }
  }

  private void correct(Block block) {
    if (surprise(block.reading()) > SURPRISE) {
      surprisedS = nowS;
      boolean power = Math.abs(block.reading().middleC() - meanC()) > 0.3;
      for (Member m : members) {
        m.model().widenLevel(m.belief(), LID_C);
        m.belief().widen(Thermal.BODY, HAND_C);
        m.widenChip(power ? POWER_C : 0);
      }
    }
    for (int i = 0; i < members.length; i++) {
      likely[i] = members[i].update(block.reading());
    }
    meanC = Double.NaN;
    moveReference();
    double temperatureVariance = joint ? Double.NaN : temperatureVariance();
    for (int i = 0; i < 3; i++) {
      if (block.variance()[i] < Double.POSITIVE_INFINITY) {
        rate(i, block.biasDps()[i], block.variance()[i], temperatureVariance);
        rated = true;
      }
    }
    weights.take(likely);
    meanC = Double.NaN;
  }

  private double surprise(Reading reading) {
    double least = Double.POSITIVE_INFINITY;
    for (int i = 0; i < members.length; i++) {
      if (weights.of(i) > COUNTS) {
        least = Math.min(least, members[i].innovation(reading));
      }
    }
    return least;
  }

  private void moveReference() {
    double now = meanC();
    double by = now - referenceC;
    referenceC = now;
    for (AxisBank axis : axes) {
      axis.moveReference(by);
    }
    for (Member m : members) {
      m.moveReference(by);
    }
  }

  /** Takes a rate; where the rates tell the temperature its variance is each filter's own. */
  private void rate(int axis, double rateDps, double variance, double temperatureVariance) {
    if (rateSurprise(axis, rateDps, variance) > RATE_SURPRISE) {
      surprisedS = nowS;
      widenAxes(Axis.BIAS, POSE_DPS);
      for (int i = 0; joint && i < members.length; i++) {
        members[i].model().widenLevel(members[i].belief(), 1);
      }
    }
    if (joint) {
      for (int i = 0; i < members.length; i++) {
        likely[i] += members[i].update(axis, referenceC, rateDps, variance);
      }
    } else {
      axes[axis].update(rateDps, variance, temperatureVariance);
    }
  }

  private double rateSurprise(int axis, double rateDps, double variance) {
    if (!joint) {
      return axes[axis].surprise(rateDps, variance);
    }
    double least = Double.POSITIVE_INFINITY;
    for (int i = 0; i < members.length; i++) {
      if (weights.of(i) > COUNTS) {
        least = Math.min(least, members[i].innovation(axis, referenceC, rateDps, variance));
      }
    }
    return least;
  }

  /** The temperature now, degC. Asked for each second, worked out anew where it may differ. */
  double meanC() {
    if (Double.isNaN(meanC)) {
      double sum = 0;
      for (int i = 0; i < members.length; i++) {
        sum += weights.of(i) * members[i].temperatureC();
      }
      meanC = sum;
    }
    return meanC;
  }

  private double temperatureVariance() {
    double sum = 0;
    for (int i = 0; i < members.length; i++) {
      sum += weights.of(i) > COUNTS ? weights.of(i) * members[i].temperatureVariance() : 0;
    }
    return sum;
  }

  /** When something unforeseen last happened, s since the soak began. */
  double surprisedS() {
    return surprisedS;
  }

  /** Whether any rates were taken. */
  boolean rated() {
    return rated;
  }

  double nowS() {
    return nowS;
  }

  double referenceC() {
    return referenceC;
  }

  /** The filters that count, now or far ahead; either kind of share sums to 1. */
  List<WeighedFilter> parts() {
    double shares = 0;
    double shareAhead = 0;
    for (int i = 0; i < members.length; i++) {
      shares += share(i);
      shareAhead += counts(i) ? weights.shareAheadOf(i) : 0;
    }
    List<WeighedFilter> out = new ArrayList<>();
    for (int i = 0; i < members.length; i++) {
      if (counts(i)) {
        out.add(
            new WeighedFilter(
                share(i) / shares,
                weights.shareAheadOf(i) / shareAhead,
                members[i],
                referenceC,
                axes));
      }
    }
    return out;
  }

  /** None where it is next to none, so that what counts only far ahead changes nothing now. */
  private double share(int i) {
    return weights.of(i) > LEAST_SHARE ? weights.of(i) : 0;
  }

  private boolean counts(int i) {
    return share(i) > 0 || weights.shareAheadOf(i) > LEAST_AHEAD;
  }
}
