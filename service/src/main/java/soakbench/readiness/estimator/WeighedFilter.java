package soakbench.readiness.estimator;

/**
 * One filter with its share, as the test and the forecast look at it.
 *
 * @param share of all; they sum to 1
 * @param shareAhead its share for who looks far ahead; see {@link Weights#shareAheadOf}
 * @param member body and room; the axes too where {@code axes} is empty
 * @param referenceC what the axes' curves are about, degC
 * @param axes filters of the axes alone, or none
 */
record WeighedFilter(
    double share, double shareAhead, Member member, double referenceC, AxisBank[] axes) {

  /** Whether it holds the axes too. */
  boolean joint() {
    return axes.length == 0;
  }

  /** How many sizes of flicker an axis has under this filter. */
  int flickers() {
    return axes.length == 0 ? 1 : AxisBank.FLICKER_DEG_PER_H.length;
  }

  double flickerShare(int axis, int flicker) {
    return axes.length == 0 ? 1 : axes[axis].weights().of(flicker);
  }

  /** What is known of an axis; its entries begin at {@link #at}. */
  Belief axis(int axis, int flicker) {
    return axes.length == 0 ? member.belief() : axes[axis].belief(flicker);
  }

  int at(int axis) {
    return axes.length == 0 ? Member.at(axis) : 0;
  }
}
