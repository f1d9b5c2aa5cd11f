package soakbench.readiness.estimator;

import java.util.List;

/**
 * What the filters say of the temperature's rate now and of each axis' shift until each horizon of
 * its model if nobody touches anything, what the room may do included.
 *
 * @param rateCPerS of the temperature
 * @param shiftDps of each axis, for each horizon
 */
record Outlook(Spread rateCPerS, Spread[][] shiftDps) {

  private static final double REACH = 1.645;

  /**
   * What is told of a shift's standard deviation: by all of what the filters say, their 90 %
   * intervals hold 93 to 96 %, by so much of it 90 to 94 (docs/methods.md).
   */
  static final double TOLD = 0.9;

  /**
   * @param slopeDpsPerC how steep each axis may be for all that its rates show; see {@link Doubts}
   */
  static Outlook of(List<WeighedFilter> parts, double slopeDpsPerC) {
    return new Maker(parts, slopeDpsPerC * slopeDpsPerC).make();
  }

  /** The axis and horizon that reach furthest from zero, as one normal distribution each would. */
  int[] worst() {
    int[] worst = {0, shiftDps[0].length - 1};
    double most = -1;
    for (int a = 0; a < shiftDps.length; a++) {
      for (int h = 0; h < shiftDps[a].length; h++) {
        Spread s = shiftDps[a][h];
        double reach = Math.abs(s.value()) + REACH * Math.sqrt(s.variance());
        if (reach > most) {
          most = reach;
          worst = new int[] {a, h};
        }
      }
    }
    return worst;
  }

  /** Whether every axis' interval lies within the limit at every horizon. */
  boolean within(double limitDps, double alpha) {
    for (Spread[] axis : shiftDps) {
      for (Spread s : axis) {
        if (s.above(limitDps) > alpha || s.below(-limitDps) > alpha) {
          return false;
        }
      }
    }
    return true;
  }

  /** The greatest probability, over axes and horizons, of a shift beyond a limit. */
  double outside(double limitDps) {
    double most = 0;
    for (Spread[] axis : shiftDps) {
      for (Spread s : axis) {
        most = Math.max(most, s.outside(limitDps));
      }
    }
    return most;
  }

  /** Works it out, filter by filter. */
  private static final class Maker {
    private final List<WeighedFilter> parts;
    private final double slopeVariance;
    private final double[] share;
    private final double[][] rate;
    private final double[][][][] shift;

    Maker(List<WeighedFilter> parts, double slopeVariance) {
      int n = parts.size();
      this.parts = parts;
      this.slopeVariance = slopeVariance;
      this.share = new double[n];
      this.rate = new double[2][n];
      this.shift = new double[3][RoomModel.HORIZONS][2][n];
    }

    Outlook make() {
      AxisCurve[] curves = new AxisCurve[3];
      for (int p = 0; p < parts.size(); p++) {
        WeighedFilter part = parts.get(p);
        Belief b = part.member().belief();
        double[] row = new double[b.size()];
        share[p] = part.share();
        Thermal.rateRow(row);
        rate[0][p] = b.meanOf(row);
        rate[1][p] = Math.sqrt(b.varianceOf(row));
        for (int a = 0; a < 3 && (p == 0 || part.joint()); a++) {
          curves[a] = AxisCurve.of(part, a);
        }
        for (int h = 0; h < RoomModel.HORIZONS; h++) {
          shifts(p, h, curves);
        }
      }
      Spread[][] shifts = new Spread[3][RoomModel.HORIZONS];
      for (int a = 0; a < 3; a++) {
        for (int h = 0; h < RoomModel.HORIZONS; h++) {
          shifts[a][h] = new Spread(share, shift[a][h][0], shift[a][h][1]);
        }
      }
      return new Outlook(new Spread(share, rate[0], rate[1]), shifts);
    }

    private void shifts(int p, int h, AxisCurve[] curves) {
      WeighedFilter part = parts.get(p);
      Member m = part.member();
      Belief b = m.belief();
      double[] row = new double[b.size()];
      m.model().changeRow(h, b.mean(Thermal.INVERSE), b.mean(Thermal.SLOPE), row);
      double x = m.temperatureC() - part.referenceC();
      double changeC = m.model().change(h, b.means(), row);
      double known = b.varianceOf(row);
      double settled = m.model().settled(h);
      double variance = known + m.model().unforeseen(h);
      double hidden = slopeVariance * (changeC * changeC + variance);
      for (int a = 0; a < 3; a++) {
        double cross = part.joint() ? b.withOf(Member.at(a) + Axis.SLOPE) : 0;
        double own = curves[a].variance(x, changeC, settled, variance, cross);
        shift[a][h][0][p] = curves[a].mean(x, changeC, settled);
        shift[a][h][1][p] = Math.sqrt(Math.max(1e-16, Math.max(hidden, TOLD * TOLD * own)));
      }
    }
  }
}
