package soakbench.readiness.estimator;

import java.util.List;

/**
 * What the filters say of the temperature's rate now and of each axis' shift until each horizon of
 * its law if nobody touches anything, what the room may do included.
 *
 * @param rateCPerS of the temperature
 * @param shiftDps of each axis, for each horizon
 */
record Outlook(Spread rateCPerS, Spread[][] shiftDps) {

  private static final double REACH = 1.645;

  /**
   * @param slopeDpsPerC how steep each axis may be for all that its rates show; see {@link Doubts}
   */
  static Outlook of(List<WeighedFilter> parts, double slopeDpsPerC) {
    return new Maker(parts, slopeDpsPerC).make();
  }

  /** The axis and horizon that reach furthest from zero, as one normal law each would. */
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
    private final int flickers;
    private final double[][][][] figures;
    private final double[][] rate;
    private final double slopeVariance;

    Maker(List<WeighedFilter> parts, double slopeDpsPerC) {
      this.parts = parts;
      this.slopeVariance = slopeDpsPerC * slopeDpsPerC;
      this.flickers = parts.get(0).flickers();
      int n = parts.size() * flickers;
      this.figures = new double[3][RoomLaw.HORIZONS][3][n];
      this.rate = new double[3][parts.size()];
    }

    Outlook make() {
      for (int p = 0; p < parts.size(); p++) {
        rate(p);
        for (int h = 0; h < RoomLaw.HORIZONS; h++) {
          shifts(p, h);
        }
      }
      Spread[][] shifts = new Spread[3][RoomLaw.HORIZONS];
      for (int a = 0; a < 3; a++) {
        for (int h = 0; h < RoomLaw.HORIZONS; h++) {
          double[][] f = figures[a][h];
          shifts[a][h] = new Spread(f[0], f[1], f[2]);
        }
      }
      return new Outlook(new Spread(rate[0], rate[1], rate[2]), shifts);
    }

    private void rate(int p) {
      Belief b = parts.get(p).member().belief();
      double[] row = new double[b.size()];
      Thermal.rateRow(row);
      rate[0][p] = parts.get(p).share();
      rate[1][p] = b.meanOf(row);
      rate[2][p] = Math.sqrt(b.varianceOf(row));
    }

    private void shifts(int p, int h) {
      WeighedFilter part = parts.get(p);
      Member m = part.member();
      Belief b = m.belief();
      double[] row = new double[b.size()];
      m.law().changeRow(h, b.mean(Thermal.INVERSE), b.mean(Thermal.SLOPE), row);
      double changeC = m.law().change(h, b.means(), row);
      double variance = b.varianceOf(row);
      for (int a = 0; a < 3; a++) {
        for (int f = 0; f < flickers; f++) {
          double[] shift = shift(part, a, f, h, changeC, variance, row);
          int k = p * flickers + f;
          figures[a][h][0][k] = part.share() * part.flickerShare(a, f);
          figures[a][h][1][k] = shift[0];
          figures[a][h][2][k] = Math.sqrt(shift[1]);
        }
      }
    }

    /** Mean and variance of an axis' shift under one filter. */
    private double[] shift(
        WeighedFilter part, int a, int f, int h, double changeC, double variance, double[] row) {
      Belief thermal = part.member().belief();
      Belief axis = part.axis(a, f);
      int at = part.at(a);
      double x = part.member().temperatureC() - part.referenceC();
      double bend = axis.mean(at + Axis.BEND);
      double slope = axis.mean(at + Axis.SLOPE) + bend * x;
      double settled = Math.exp(-part.member().law().aheadS(h) / Axis.SETTLING_S) - 1;
      double steep = slope + bend * changeC;
      double[] g = new double[axis.size()];
      g[at + Axis.SLOPE] = changeC;
      g[at + Axis.BEND] = changeC * (x + changeC / 2);
      g[at + Axis.SETTLING] = settled;
      double mean =
          slope * changeC + bend * changeC * changeC / 2 + axis.mean(at + Axis.SETTLING) * settled;
      double own;
      if (axis == thermal) {
        for (int i = 0; i < Thermal.SIZE; i++) {
          g[i] = steep * row[i];
        }
        own = axis.varianceOf(g);
      } else {
        own = axis.varianceOf(g) + steep * steep * variance;
      }
      double unforeseen = part.member().law().unforeseen(h);
      double product = axis.cov(at + Axis.SLOPE, at + Axis.SLOPE) * (variance + unforeseen);
      double followed = own + steep * steep * unforeseen + product;
      double hidden = slopeVariance * (changeC * changeC + variance + unforeseen);
      return new double[] {mean, Math.max(1e-16, Math.max(hidden, followed))};
    }
  }
}
