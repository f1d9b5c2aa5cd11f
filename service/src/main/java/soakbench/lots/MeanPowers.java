package soakbench.lots;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.function.Function;
import java.util.function.ToDoubleFunction;
import soakbench.drift.curve.BiasCurve.Powers;
import soakbench.drift.curve.RepeatedErrors;
import soakbench.numerics.PolynomialFit;
import soakbench.numerics.PolynomialFit.Scale;
import soakbench.numerics.StudentLimits;

/** The weighted mean of several soaks' curves of one axis, with its covariance. */
final class MeanPowers {
  private static final int PLACES = 9;

  private final List<SoakCurve> soaks;
  private final List<AxisCurve> curves;
  private final double referenceC;
  private final double[] rangeC;
  private final int size;

  /**
   * @param soaks that have a curve of the axis, the newest first; at least one
   * @param referenceC the mean's powers are about this temperature, degC
   * @param rangeC lowest and highest temperature covered, degC
   */
  MeanPowers(
      List<SoakCurve> soaks,
      Function<SoakCurve, AxisCurve> ofAxis,
      double referenceC,
      double[] rangeC) {
    this.soaks = soaks;
    this.referenceC = referenceC;
    this.rangeC = rangeC;
    List<AxisCurve> known = soaks.stream().map(ofAxis).toList();
    this.size = known.stream().mapToInt(c -> c.powers().coefficients().length).max().orElseThrow();
    this.curves = known.stream().map(this::about).toList();
  }

  /** The same curve about the mean's reference and with as many powers as the longest has. */
  private AxisCurve about(AxisCurve curve) {
    Powers p = curve.powers();
    int n = p.coefficients().length;
    double[][] change =
        PolynomialFit.changeOfBasis(new Scale(curve.referenceC(), 1), n - 1, referenceC);
    double[][] half = new double[n][];
    for (int j = 0; j < n; j++) {
      half[j] = times(change, p.covariance()[j]);
    }
    double[][] covariance = new double[size][size];
    for (int i = 0; i < n; i++) {
      for (int j = 0; j < n; j++) {
        for (int k = 0; k < n; k++) {
          covariance[i][j] += change[i][k] * half[k][j];
        }
      }
    }
    RepeatedErrors repeated =
        new RepeatedErrors(
            times(change, p.repeated().lag()), times(change, p.repeated().powerLeftOut()));
    Powers moved =
        new Powers(p.order(), times(change, p.coefficients()), covariance, p.limitsSe(), repeated);
    return new AxisCurve(referenceC, moved, null);
  }

  private double[] times(double[][] change, double[] v) {
    double[] out = new double[size];
    for (int i = 0; i < v.length; i++) {
      for (int k = 0; k < v.length; k++) {
        out[i] += change[i][k] * v[k];
      }
    }
    return out;
  }

  /** The mean. What soaks differ by beyond their errors is part of its level and of its slope. */
  Powers powers() {
    RandomEffects slope =
        RandomEffects.of(curves.stream().map(c -> c.tempcoDpsPerC(referenceC)).toList());
    RandomEffects level =
        RandomEffects.of(alike().stream().map(c -> c.biasDps(referenceC)).toList());
    double[] shares = shares(c -> meanSlopeVariance(c) + slope.betweenVariance());
    double[] ofLevel = shares(c -> levelVariance(c, level.betweenVariance()));
    double[] coefficients = new double[size];
    double[][] covariance = new double[size][size];
    Map<String, double[]> causes = new TreeMap<>();
    for (int i = 0; i < shares.length; i++) {
      double[] weights = new double[size];
      Arrays.fill(weights, shares[i]);
      weights[0] = ofLevel[i];
      add(curves.get(i).powers(), weights, coefficients, covariance, causes);
      covariance[0][0] += ofLevel[i] * ofLevel[i] * level.betweenVariance();
      covariance[1][1] += shares[i] * shares[i] * slope.betweenVariance();
    }
    causes.values().forEach(sds -> addOuter(covariance, sds, 1));
    RepeatedErrors repeated =
        new RepeatedErrors(causes.get(AxisCurve.LAG), causes.get(AxisCurve.leftOutPower(size - 1)));
    double limitsSe = StudentLimits.limitsSe(slope.degreesOfFreedom());
    return new Powers(size - 2, coefficients, covariance, limitsSe, repeated);
  }

  /** Infinite for a soak that lay on another face: it counts nothing. */
  private double levelVariance(AxisCurve curve, double between) {
    return alike().contains(curve)
        ? curve.biasDps(referenceC).variance() + between
        : Double.POSITIVE_INFINITY;
  }

  /** Curves of the soaks that lay like the newest: another face has another level. */
  private List<AxisCurve> alike() {
    List<AxisCurve> out = new ArrayList<>();
    for (int i = 0; i < curves.size(); i++) {
      if (soaks.get(i).sameFace(soaks.get(0))) {
        out.add(curves.get(i));
      }
    }
    return out;
  }

  private double meanSlopeVariance(AxisCurve curve) {
    double sum = 0;
    for (int i = 0; i < PLACES; i++) {
      double celsius = rangeC[0] + (rangeC[1] - rangeC[0]) * i / (PLACES - 1);
      sum += curve.tempcoDpsPerC(celsius).variance() / PLACES;
    }
    return sum;
  }

  /** Inversely to variances; they sum to 1. */
  private double[] shares(ToDoubleFunction<AxisCurve> variance) {
    double[] shares = curves.stream().mapToDouble(c -> 1 / variance.applyAsDouble(c)).toArray();
    double sum = Arrays.stream(shares).sum();
    return Arrays.stream(shares).map(s -> s / sum).toArray();
  }

  /** Adds a curve's share; what other soaks repeat of its errors is gathered by its cause. */
  private void add(
      Powers of,
      double[] weights,
      double[] coefficients,
      double[][] covariance,
      Map<String, double[]> causes) {
    double[][] own = new double[size][];
    for (int k = 0; k < size; k++) {
      own[k] = of.covariance()[k].clone();
      coefficients[k] += weights[k] * of.coefficients()[k];
    }
    addOuter(own, of.repeated().lag(), -1);
    addOuter(own, of.repeated().powerLeftOut(), -1);
    gather(causes, AxisCurve.LAG, weights, of.repeated().lag());
    gather(causes, AxisCurve.leftOutPower(of.order() + 1), weights, of.repeated().powerLeftOut());
    for (int k = 0; k < size; k++) {
      for (int j = 0; j < size; j++) {
        covariance[k][j] += weights[k] * own[k][j] * weights[j];
      }
    }
  }

  private void gather(Map<String, double[]> causes, String cause, double[] weights, double[] sds) {
    double[] sum = causes.computeIfAbsent(cause, c -> new double[size]);
    for (int k = 0; k < size; k++) {
      sum[k] += weights[k] * sds[k];
    }
  }

  private static void addOuter(double[][] to, double[] v, double factor) {
    for (int k = 0; k < v.length; k++) {
      for (int j = 0; j < v.length; j++) {
        to[k][j] += factor * v[k] * v[j];
      }
    }
  }
}
