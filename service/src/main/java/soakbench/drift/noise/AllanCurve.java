package soakbench.drift.noise;

import java.util.ArrayList;
import java.util.List;
import soakbench.numerics.allan.AllanConfidence;
import soakbench.numerics.allan.AllanConfidence.Kind;
import soakbench.numerics.allan.AllanDeviation;
import soakbench.numerics.allan.AllanFit;
import soakbench.numerics.allan.SettledAllan;
import soakbench.numerics.allan.SettledAllan.Point;

/**
 * An axis' Allan deviations at octaves, and the noise model that explains them.
 *
 * @param points shown, by averaging time: to a quarter of the longest stretch
 * @param read how many of them are read: those to a tenth
 * @param model of the ones that are read; null where none is
 */
record AllanCurve(List<Point> points, int read, AllanFit model) {
  /** What may be left of the ramp in a second difference, of the deviation. */
  private static final double RAMP_SHARE = 0.3;

  private static final int SHOWN_PART = 4;
  private static final int READ_PART = 10;

  /**
   * Works them out.
   *
   * @param rates evenly spaced, a second apart, without the ramps; one array for each piece
   * @param ramps what was taken off
   */
  static AllanCurve of(List<double[]> rates, List<double[]> ramps) {
    List<Point> points = new ArrayList<>();
    int read = 0;
    SettledAllan allan = new SettledAllan(rates, ramps);
    for (int m : AllanDeviation.octaves(rates)) {
      Point settled = allan.at(m, RAMP_SHARE * allan.deviation(m));
      int longest = 0;
      for (int run : settled.runs()) {
        longest = Math.max(longest, run + 2 * m - 1);
      }
      if (longest >= SHOWN_PART * m) {
        points.add(settled);
        read = longest >= READ_PART * m ? points.size() : read;
      }
    }
    return new AllanCurve(points, read, model(points.subList(0, read)));
  }

  private static AllanFit model(List<Point> read) {
    if (read.isEmpty() || !(read.get(0).deviation() > 0)) {
      return null;
    }
    AllanFit model = null;
    // The kind of noise at each point follows from the model, and its certainty from the kind.
    for (int round = 0; round < 3; round++) {
      model = AllanFit.of(readings(read, model));
    }
    return model;
  }

  /** What the model is fitted to. */
  List<AllanFit.Reading> readings() {
    return readings(points.subList(0, read), model);
  }

  /** All that are shown, for what their few degrees of freedom bear. */
  List<AllanFit.Reading> shownReadings() {
    return readings(points, model);
  }

  /**
   * Octaves of overlapping differences share their readings: together they claim about twice as
   * many degrees of freedom as there are readings. All are cut by the same factor.
   */
  private static List<AllanFit.Reading> readings(List<Point> read, AllanFit model) {
    double[] df = new double[read.size()];
    double sum = 0;
    for (int i = 0; i < df.length; i++) {
      df[i] = degreesOfFreedom(read.get(i), kind(model, read.get(i).factor()));
      sum += df[i];
    }
    double seconds = read.get(0).terms() + 2.0 * read.get(0).runs().length;
    double share = Math.min(1, seconds / sum);
    List<AllanFit.Reading> out = new ArrayList<>();
    for (int i = 0; i < df.length; i++) {
      double deviation = read.get(i).deviation();
      out.add(new AllanFit.Reading(read.get(i).factor(), deviation * deviation, share * df[i]));
    }
    return out;
  }

  private static Kind kind(AllanFit model, double tauS) {
    if (model == null || model.share(0, tauS) >= 0.5) {
      return Kind.WHITE;
    }
    return model.share(2, tauS) >= 0.5 ? Kind.RANDOM_WALK : Kind.FLICKER;
  }

  /** Of all runs together. */
  private static double degreesOfFreedom(Point p, Kind kind) {
    double sum = 0;
    for (int run : p.runs()) {
      double phases = run + 2.0 * p.factor();
      // A run shorter than its averaging time shares its readings with the next: part of one.
      sum +=
          AllanConfidence.degreesOfFreedom(kind, phases, p.factor())
              * Math.min(1, run / (double) p.factor());
    }
    return Math.max(1, sum);
  }

  /** 95 % limits of one of the points. */
  double[] limits(int point) {
    Point p = points.get(point);
    return AllanConfidence.limits(
        p.deviation(), degreesOfFreedom(p, kind(model, p.factor())), 0.95);
  }
}
