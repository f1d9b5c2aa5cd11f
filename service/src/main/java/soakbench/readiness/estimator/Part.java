package soakbench.readiness.estimator;

/**
 * One filter with its share, as the test and the forecast look at it.
 *
 * @param share of all; they sum to 1
 * @param member body and room; the axes too where {@code axes} is empty
 * @param referenceC what the axes' curves are about, degC
 * @param axes filters of the axes alone, or none
 */
record Part(double share, Member member, double referenceC, AxisBank[] axes) {

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

  /** The same, to be run ahead. */
  Part copy() {
    AxisBank[] copies = new AxisBank[axes.length];
    for (int i = 0; i < axes.length; i++) {
      copies[i] = axes[i].copy();
    }
    return new Part(1, member.copy(), referenceC, copies);
  }

  /**
   * Goes on along its own mean path by a step of the forecast, with readings that say what is
   * expected.
   *
   * @param like a block as they will be
   * @param blocks how many of them in the step
   * @param gains gets by how much each entry moves for an innovation of one standard deviation, of
   *     the temperature and of each rate; null where there is none
   */
  Part ahead(Block like, int blocks, double[][] gains) {
    double beforeC = member.temperatureC();
    member.predict(member.law().ahead(), Forecast.STEP_S, 0);
    double by = member.temperatureC() - beforeC;
    member.moveReference(by);
    gains[0] = spread(member.confirm(like.reading(), blocks), 0);
    double given = axes.length == 0 ? 0 : member.temperatureVariance();
    for (int i = 0; i < 3; i++) {
      double variance = like.variance()[i] / blocks;
      boolean known = variance < Double.POSITIVE_INFINITY;
      if (axes.length > 0) {
        axes[i].predict(Forecast.STEP_S);
        axes[i].moveReference(by);
        gains[1 + i] = known ? spread(axes[i].confirm(variance, given), Member.at(i)) : null;
      } else {
        gains[1 + i] = known ? member.confirm(i, variance) : null;
      }
    }
    return new Part(share, member, referenceC + by, axes);
  }

  /** Puts a gain into the whole state's place for it. */
  private static double[] spread(double[] gain, int at) {
    double[] out = new double[Member.at(3)];
    System.arraycopy(gain, 0, out, at, gain.length);
    return out;
  }
}
