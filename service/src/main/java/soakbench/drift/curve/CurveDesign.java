package soakbench.drift.curve;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import soakbench.numerics.PolynomialFit;
import soakbench.numerics.PolynomialFit.Scale;
import soakbench.numerics.RegressionDesign;

/**
 * What a bias curve is made of: an offset for each pose and boot, powers of the temperature scaled
 * to -1 to 1, and the temperature's rate; then whatever else is asked for.
 *
 * @param blocks by time
 * @param poses segments in order of time; the last is the newest
 * @param order highest power
 * @param scale of the temperatures
 * @param lagSd prior standard deviation of the lag, deg/s for each degC/s; infinite where nothing
 *     is
 * @param more further columns, one entry for each block
 */
record CurveDesign(
    List<CurveBlock> blocks,
    List<Integer> poses,
    int order,
    Scale scale,
    double lagSd,
    List<double[]> more) {

  static CurveDesign of(List<CurveBlock> blocks, int order, double lagSd) {
    List<Integer> poses = blocks.stream().map(CurveBlock::segment).distinct().toList();
    double[] celsius = blocks.stream().mapToDouble(CurveBlock::temperatureC).toArray();
    return new CurveDesign(blocks, poses, order, Scale.of(celsius), lagSd, List.of());
  }

  CurveDesign and(double[] column) {
    List<double[]> columns = new ArrayList<>(more);
    columns.add(column);
    return new CurveDesign(blocks, poses, order, scale, lagSd, columns);
  }

  /** The temperatures' rate at each block, degC/s. */
  double[] rates() {
    return blocks.stream().mapToDouble(CurveBlock::rateCPerS).toArray();
  }

  /** A power of (T - reference) at each block, degC^power. */
  double[] power(double referenceC, int power) {
    return blocks.stream()
        .mapToDouble(b -> Math.pow(b.temperatureC() - referenceC, power))
        .toArray();
  }

  int lagIndex() {
    return poses.size() + order;
  }

  /** Index of the first of the further columns. */
  int moreIndex() {
    return lagIndex() + 1;
  }

  int unknowns() {
    return moreIndex() + more.size();
  }

  RegressionDesign regression() {
    double[][] rows = new double[blocks.size()][];
    for (int i = 0; i < rows.length; i++) {
      rows[i] = row(i);
    }
    double[] prior = new double[unknowns()];
    Arrays.fill(prior, Double.POSITIVE_INFINITY);
    prior[lagIndex()] = lagSd;
    return new RegressionDesign(
        rows,
        prior,
        blocks.stream().mapToDouble(CurveBlock::midS).toArray(),
        blocks.stream().mapToDouble(CurveBlock::widthS).toArray());
  }

  private double[] row(int i) {
    CurveBlock b = blocks.get(i);
    double[] row = new double[unknowns()];
    row[poses.indexOf(b.segment())] = 1;
    double[] u = PolynomialFit.powers(scale.to(b.temperatureC()), order);
    System.arraycopy(u, 1, row, poses.size(), order);
    row[lagIndex()] = b.rateCPerS();
    for (int k = 0; k < more.size(); k++) {
      row[moreIndex() + k] = more.get(k)[i];
    }
    return row;
  }

  /**
   * All columns but the offsets, less what the offsets explain of them.
   *
   * @param lag whether the rate's column is one of them
   */
  double[][] withoutOffsets(boolean lag) {
    double[][] rows = new double[blocks.size()][];
    for (int i = 0; i < rows.length; i++) {
      double[] row = row(i);
      double[] powers = Arrays.copyOfRange(row, poses.size(), lagIndex());
      double[] rest = Arrays.copyOfRange(row, lag ? lagIndex() : moreIndex(), row.length);
      rows[i] = Arrays.copyOf(powers, powers.length + rest.length);
      System.arraycopy(rest, 0, rows[i], powers.length, rest.length);
    }
    takeOffsets(rows);
    return rows;
  }

  private void takeOffsets(double[][] rows) {
    for (int pose : poses) {
      double[] mean = new double[rows[0].length];
      long n = blocks.stream().filter(b -> b.segment() == pose).count();
      for (int c = 0; c < mean.length; c++) {
        for (int i = 0; i < rows.length; i++) {
          mean[c] += blocks.get(i).segment() == pose ? rows[i][c] / n : 0;
        }
        for (int i = 0; i < rows.length; i++) {
          rows[i][c] -= blocks.get(i).segment() == pose ? mean[c] : 0;
        }
      }
    }
  }

  double[][] biasDps() {
    double[][] y = new double[3][blocks.size()];
    for (int axis = 0; axis < 3; axis++) {
      for (int i = 0; i < blocks.size(); i++) {
        y[axis][i] = blocks.get(i).biasDps()[axis];
      }
    }
    return y;
  }

  /**
   * Turns all unknowns into coefficients of ascending powers of (T - reference), the first in the
   * newest pose: one row for each power.
   */
  double[][] toPowers(double referenceC) {
    double[][] basis = PolynomialFit.changeOfBasis(scale, order, referenceC);
    double[][] out = new double[order + 1][unknowns()];
    for (int k = 0; k <= order; k++) {
      out[k][poses.size() - 1] = basis[k][0];
      System.arraycopy(basis[k], 1, out[k], poses.size(), order);
    }
    return out;
  }
}
