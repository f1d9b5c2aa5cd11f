package soakbench.drift.calibration;

import java.util.ArrayList;
import java.util.List;
import soakbench.drift.heading.HeadingAnalysis;
import soakbench.model.Estimate;
import soakbench.model.Tracker.Rates;
import soakbench.numerics.GeneralizedFit;

/**
 * What a handling's poses read on one axis: generalized least squares with a level before lifting,
 * one in the still minute after, one in the poses (the same as after where rates are raw), three
 * sensitivities to gravity and the temperature coefficient. What such chips have comes in as rows
 * of its own, so any number of poses will do, also none.
 *
 * <p>Flicker is no error here: the levels are those of their seconds, and poses are seconds apart.
 */
final class PoseModel {
  private static final int BEFORE = 0;
  private static final int AFTER = 1;
  private static final int TEMPCO = 2;
  private static final int GRAVITY = 3;
  private static final int POSED = 6;

  /** Where none is known: that of such chips, deg/s per degC (common practice, no source). */
  private static final double TEMPCO_DPS = 0.03;

  /** A coefficient is another at the temperature of the poses, deg/s per degC. */
  private static final double TEMPCO_BENDS_DPS = 0.002;

  private static final double EARTH_DPS = HeadingAnalysis.EARTH_DEG_PER_MIN / 60;

  /** Of the Earth's rate along one direction, if it may be any, (deg/s)^2. */
  private static final double EARTH_VARIANCE = EARTH_DPS * EARTH_DPS / 3;

  /** No face is laid truer than to two degrees: the square of that sine. */
  private static final double LEAST_SKEW = 0.0012;

  private final List<Pose> all = new ArrayList<>();
  private final boolean lifted;
  private final Rates rates;
  private final int columns;

  PoseModel(Pose before, List<Pose> poses, Pose after, boolean lifted, Rates rates) {
    all.add(before);
    all.addAll(poses);
    all.add(after);
    this.lifted = lifted;
    this.rates = rates;
    this.columns = rates == Rates.RAW || poses.isEmpty() ? POSED : POSED + 1;
  }

  /** A residual, deg/s, with its variance and how well the poses go with it. */
  record Level(double dps, double variance, double logLikelihood) {}

  /**
   * The residual of one axis.
   *
   * @param whiteDps N, deg/sqrt(s)
   * @param tempco deg/s per degC
   * @param sensitivityDps of such chips, deg/s for each g
   */
  Level residual(int axis, double whiteDps, Estimate tempco, double sensitivityDps) {
    int rows = all.size();
    double[][] design = new double[rows + 4][columns];
    double[][] noise = new double[rows + 4][rows + 4];
    double[] y = new double[rows + 4];
    for (int k = 0; k < rows; k++) {
      row(k, design[k]);
      y[k] = all.get(k).biasDps()[axis];
      noise[k][k] = whiteDps * whiteDps / all.get(k).seconds() + place(k, axis, sensitivityDps);
    }
    if (!lifted) {
      noise[0][rows - 1] = place(0, axis, sensitivityDps);
      noise[rows - 1][0] = noise[0][rows - 1];
    }
    for (int g = 0; g < 3; g++) {
      design[rows + g][GRAVITY + g] = 1;
      double earth = g == axis ? EARTH_VARIANCE : 0;
      noise[rows + g][rows + g] = sensitivityDps * sensitivityDps + earth;
    }
    design[rows + 3][TEMPCO] = 1;
    y[rows + 3] = tempco.known() ? tempco.value() : 0;
    double tempcoSe = tempco.known() ? Math.hypot(tempco.se(), TEMPCO_BENDS_DPS) : TEMPCO_DPS;
    noise[rows + 3][rows + 3] = tempcoSe * tempcoSe;
    return level(GeneralizedFit.of(design, y, noise));
  }

  private void row(int k, double[] row) {
    Pose pose = all.get(k);
    Pose after = all.get(all.size() - 1);
    boolean posed = k > 0 && pose != after;
    row[k == 0 ? BEFORE : posed && columns > POSED ? POSED : AFTER] = 1;
    for (int g = 0; g < 3 && pose.gravityG() != null; g++) {
      row[GRAVITY + g] = pose.gravityG()[g];
    }
    double warmerC = pose.temperatureC() - after.temperatureC();
    row[TEMPCO] = posed && !Double.isNaN(warmerC) ? warmerC : 0;
  }

  /** Variance of what a place adds and no column explains. */
  private double place(int k, int axis, double sensitivityDps) {
    double[] up = all.get(k).gravityG();
    return up == null
        ? EARTH_VARIANCE + sensitivityDps * sensitivityDps
        : EARTH_VARIANCE * Math.max(LEAST_SKEW, 1 - up[axis] * up[axis]);
  }

  private Level level(GeneralizedFit fit) {
    double[] x = fit.coefficients();
    double[][] v = fit.covariance();
    double likelihood = fit.restrictedLogLikelihood();
    if (rates != Rates.RAW) {
      return new Level(x[AFTER], v[AFTER][AFTER], likelihood);
    }
    double variance = v[AFTER][AFTER] + v[BEFORE][BEFORE] - 2 * v[AFTER][BEFORE];
    return new Level(x[AFTER] - x[BEFORE], variance, likelihood);
  }
}
