package soakbench.drift.still;

import java.io.Serializable;
import java.util.ArrayList;
import java.util.List;
import soakbench.numerics.ColouredNoise;
import soakbench.numerics.GeneralizedFit;
import soakbench.numerics.Measured;

/**
 * Bias of one axis against temperature, with an offset for each pose and boot: generalized least
 * squares over still blocks, white noise known, flicker noise by restricted likelihood over a grid.
 *
 * @param referenceC the temperature about which the powers are taken, degC
 * @param slopeCoefficients of (T - reference)^1, ^2 …, deg/s per degC^k
 * @param covariance of them
 * @param offsetDps bias at the reference in the newest pose, deg/s
 * @param flickerDps B that the likelihood prefers, deg/s
 * @param whiteDps N that was used, deg/s at 1 s
 */
public record BiasModel(
    double referenceC,
    double[] slopeCoefficients,
    double[][] covariance,
    double offsetDps,
    double flickerDps,
    double whiteDps)
    implements Serializable {

  /** Ratios of the Allan floor to the white noise of one block that are tried. */
  private static final double[] FLICKER_RATIOS = {0.12, 0.25, 0.5, 1, 2, 4, 8};

  /**
   * Normal prior of a unit's coefficients, about zero, before it has shown its own; used for the
   * verdict, never for the figures.
   *
   * @param slopeSd standard deviation of the coefficient about zero, deg/s per degC
   * @param curvatureSd of the second, deg/s per degC^2
   * @param cubicSd of the third, deg/s per degC^3
   */
  public record Prior(double slopeSd, double curvatureSd, double cubicSd) {
    double sd(int power) {
      return power == 1 ? slopeSd : power == 2 ? curvatureSd : cubicSd;
    }
  }

  /** Highest power for a span of temperatures: 1 below 3 degC, 2 below 8, 3 above. */
  public static int orderForSpan(double spanC) {
    return spanC < 3 ? 1 : spanC < 8 ? 2 : 3;
  }

  /**
   * Fits one axis.
   *
   * @param blocks by time, at least two more than there are poses plus powers
   * @param axis 0 x, 1 y, 2 z
   * @param order highest power, 1 or more
   * @param referenceC powers are taken about this temperature, degC
   * @param whiteDps N, deg/s at 1 s
   * @param flickerDps B to use, deg/s; NaN to find it
   * @param prior or null for none
   * @throws IllegalArgumentException if the blocks can't determine the coefficients
   */
  public static BiasModel of(
      List<BiasBlock> blocks,
      int axis,
      int order,
      double referenceC,
      double whiteDps,
      double flickerDps,
      Prior prior) {
    Design design = Design.of(blocks, axis, order, referenceC, prior, flickerOfOne(blocks));
    return of(design, whiteDps, flickerDps);
  }

  /**
   * Fits all three axes, as {@link #of} does each.
   *
   * @param whiteDps N of each axis
   * @param flickerDps B of each axis to use, or NaN to find it
   */
  public static BiasModel[] ofAxes(
      List<BiasBlock> blocks,
      int order,
      double referenceC,
      double[] whiteDps,
      double[] flickerDps,
      Prior prior) {
    double[][] flickerOfOne = flickerOfOne(blocks);
    BiasModel[] models = new BiasModel[3];
    for (int axis = 0; axis < 3; axis++) {
      Design design = Design.of(blocks, axis, order, referenceC, prior, flickerOfOne);
      models[axis] = of(design, whiteDps[axis], flickerDps[axis]);
    }
    return models;
  }

  /** Costly, so only once a set of blocks: it grows with the square of B. */
  private static double[][] flickerOfOne(List<BiasBlock> blocks) {
    double[] mid = blocks.stream().mapToDouble(BiasBlock::midS).toArray();
    double[] width = blocks.stream().mapToDouble(BiasBlock::widthS).toArray();
    return ColouredNoise.covariance(mid, width, 0, 1);
  }

  private static BiasModel of(Design design, double whiteDps, double flickerDps) {
    double white = Math.max(whiteDps, 1e-6);
    double best = Double.isNaN(flickerDps) ? likeliest(design, white) : flickerDps;
    GeneralizedFit fit = design.fit(white, best);
    double scale = Math.max(1, fit.weightedRss() / Math.max(1, fit.degreesOfFreedom()));
    return design.model(fit, scale, white, best);
  }

  private static double likeliest(Design design, double white) {
    double blockWhite = white / Math.sqrt(BiasBlocks.BLOCK_S);
    double best = FLICKER_RATIOS[0] * blockWhite / 0.664;
    double most = Double.NEGATIVE_INFINITY;
    for (double ratio : FLICKER_RATIOS) {
      double flicker = ratio * blockWhite / 0.664;
      double likelihood = design.fit(white, flicker).restrictedLogLikelihood();
      if (likelihood > most) {
        most = likelihood;
        best = flicker;
      }
    }
    return best;
  }

  /** Bias at {@code b} minus bias at {@code a}, deg/s. */
  public Measured difference(double aC, double bC) {
    double a = aC - referenceC;
    double b = bC - referenceC;
    double[] g = new double[slopeCoefficients.length];
    for (int k = 0; k < g.length; k++) {
      g[k] = Math.pow(b, k + 1) - Math.pow(a, k + 1);
    }
    return linear(g);
  }

  /** Slope of the curve at a temperature, deg/s per degC. */
  public Measured slopeAt(double temperatureC) {
    double u = temperatureC - referenceC;
    double[] g = new double[slopeCoefficients.length];
    for (int k = 0; k < g.length; k++) {
      g[k] = (k + 1) * Math.pow(u, k);
    }
    return linear(g);
  }

  private Measured linear(double[] g) {
    double mean = 0;
    double variance = 0;
    for (int i = 0; i < g.length; i++) {
      mean += g[i] * slopeCoefficients[i];
      for (int j = 0; j < g.length; j++) {
        variance += g[i] * covariance[i][j] * g[j];
      }
    }
    return Measured.ofVariance(mean, variance);
  }

  /** Powers 1 to {@code order} of (T - reference) / half width, degC. */
  private record Powers(int order, double referenceC, double halfWidthC) {}

  /**
   * Columns: one offset a pose, then powers of the scaled temperature; rows: blocks, then priors.
   */
  private record Design(
      double[][] x,
      double[] y,
      double[] widthS,
      double[][] flickerOfOne,
      double[] priorVariance,
      int poses,
      Powers powers) {

    static Design of(
        List<BiasBlock> blocks,
        int axis,
        int order,
        double referenceC,
        Prior prior,
        double[][] flickerOfOne) {
      int n = blocks.size();
      List<Integer> segments = new ArrayList<>();
      double half = 1e-3;
      for (BiasBlock b : blocks) {
        if (!segments.contains(b.segment())) {
          segments.add(b.segment());
        }
        half = Math.max(half, Math.abs(b.temperatureC() - referenceC));
      }
      int poses = segments.size();
      int rows = n + (prior == null ? 0 : order);
      double[][] x = new double[rows][poses + order];
      double[] y = new double[rows];
      double[] width = new double[n];
      for (int i = 0; i < n; i++) {
        BiasBlock b = blocks.get(i);
        x[i][segments.indexOf(b.segment())] = 1;
        for (int k = 1; k <= order; k++) {
          x[i][poses + k - 1] = Math.pow((b.temperatureC() - referenceC) / half, k);
        }
        y[i] = b.biasDps()[axis];
        width[i] = b.widthS();
      }
      double[] variance = new double[rows - n];
      for (int k = 1; k <= rows - n; k++) {
        x[n + k - 1][poses + k - 1] = 1;
        variance[k - 1] = Math.pow(prior.sd(k) * Math.pow(half, k), 2);
      }
      Powers powers = new Powers(order, referenceC, half);
      return new Design(x, y, width, flickerOfOne, variance, poses, powers);
    }

    GeneralizedFit fit(double white, double flicker) {
      int n = widthS.length;
      double[][] noise = new double[y.length][y.length];
      for (int i = 0; i < n; i++) {
        for (int j = 0; j < n; j++) {
          noise[i][j] = flicker * flicker * flickerOfOne[i][j];
        }
        noise[i][i] += white * white / widthS[i];
      }
      for (int k = 0; k < priorVariance.length; k++) {
        noise[n + k][n + k] = priorVariance[k];
      }
      return GeneralizedFit.of(x, y, noise);
    }

    BiasModel model(GeneralizedFit fit, double scale, double white, double flicker) {
      int order = powers.order;
      double[] c = new double[order];
      double[][] covariance = new double[order][order];
      for (int i = 0; i < order; i++) {
        double si = Math.pow(powers.halfWidthC, i + 1);
        c[i] = fit.coefficients()[poses + i] / si;
        for (int j = 0; j < order; j++) {
          double sj = Math.pow(powers.halfWidthC, j + 1);
          covariance[i][j] = scale * fit.covariance()[poses + i][poses + j] / (si * sj);
        }
      }
      double offset = fit.coefficients()[poses - 1];
      return new BiasModel(powers.referenceC, c, covariance, offset, flicker, white);
    }
  }
}
