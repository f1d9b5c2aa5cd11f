package soakbench.readiness.estimator;

import soakbench.model.Limits;

/**
 * Paths that one filter's means may take, driven by innovations of the size that it expects, and
 * what the test will say of them. So a path is what will be believed, not what is true: close at
 * hand the two differ by what can't be learned any more. One path at a time; not thread-safe.
 */
final class PathDraw {
  private static final int HORIZONS = RoomModel.HORIZONS;
  private static final int SIZE = Member.at(3);

  /** What a step leaves of an axis' settling. */
  private static final double SETTLING_LEFT = Math.exp(-Forecast.STEP_S / Axis.SETTLING_S);

  private final Future future;
  private final FutureCurves curves;
  private final double bandMiddleC;
  private final double bandHalfC;
  private final double rateLimitCPerMin;
  private final double shiftLimitDps;
  private final double quantile;
  private final double slopeVariance;
  private final boolean joint;
  private final RoomModel model;
  private final double[] start = new double[SIZE];
  private final double startReferenceC;
  private final double[] state = new double[SIZE];
  private double referenceC;
  private final double[][] rows = new double[HORIZONS][Thermal.SIZE];
  private final double[] settled = new double[HORIZONS];

  /**
   * @param quantile how many standard deviations the test's intervals reach to either side
   * @param slopeDpsPerC how steep each axis may be for all that its rates show; see {@link Doubts}
   */
  PathDraw(WeighedFilter part, Future future, Limits limits, double quantile, double slopeDpsPerC) {
    this.slopeVariance = slopeDpsPerC * slopeDpsPerC;
    this.future = future;
    this.curves = future.curves();
    this.bandMiddleC = (limits.bandHighC() + limits.bandLowC()) / 2;
    this.bandHalfC = (limits.bandHighC() - limits.bandLowC()) / 2;
    this.rateLimitCPerMin = limits.temperatureRateLimitCPerMin();
    this.shiftLimitDps = limits.shiftLimitDps();
    this.quantile = quantile;
    this.joint = part.joint();
    this.model = part.member().model();
    this.startReferenceC = part.referenceC();
    System.arraycopy(part.member().belief().means(), 0, start, 0, Thermal.SIZE);
    for (int a = 0; a < 3; a++) {
      for (int f = 0; f < part.flickers(); f++) {
        for (int k = 0; k < Axis.SIZE; k++) {
          start[Member.at(a) + k] += part.flickerShare(a, f) * part.axis(a, f).mean(part.at(a) + k);
        }
      }
    }
    for (int h = 0; h < HORIZONS; h++) {
      settled[h] = model.settled(h);
      model.changeRow(h, start[Thermal.INVERSE], start[Thermal.SLOPE], rows[h]);
    }
  }

  /** Begins another path. */
  void begin() {
    System.arraycopy(start, 0, state, 0, SIZE);
    referenceC = startReferenceC;
  }

  /**
   * By how much band, rate or shift will be over its limit after so many steps, as a part of it:
   * the first of them that is, else the one that is nearest to it. Not positive where all hold.
   */
  double over(int step) {
    int i = Math.min(step, Future.STEPS - 1);
    double celsius = Thermal.temperatureC(state);
    double worst = Math.abs(celsius - bandMiddleC) / bandHalfC - 1;
    if (worst > 0) {
      return worst;
    }
    double rateReach =
        Math.abs(Thermal.rateCPerS(state)) + quantile * Math.sqrt(future.rateVariance()[i]);
    worst = Math.max(worst, 60 * rateReach / rateLimitCPerMin - 1);
    if (worst > 0) {
      return worst;
    }
    for (int h = 0; h < HORIZONS; h++) {
      double change = model.change(h, state, rows[h]);
      for (int a = 0; a < 3; a++) {
        double reach = shiftReach(i, h, a, change, celsius - referenceC);
        worst = Math.max(worst, reach / shiftLimitDps - 1);
      }
    }
    return worst;
  }

  private double shiftReach(int i, int h, int a, double changeC, double x) {
    int at = Member.at(a);
    double slope = state[at + Axis.SLOPE];
    double bend = state[at + Axis.BEND];
    double middle = x + changeC / 2;
    double shift = changeC * (slope + bend * middle) + state[at + Axis.SETTLING] * settled[h];
    double steep = slope + bend * (x + changeC);
    double change = future.changeVariance()[i][h];
    double variance =
        (steep * steep + curves.curve()[i][a][0]) * change
            + curves.variance(i, a, changeC, changeC * middle, settled[h])
            + 2 * steep * changeC * curves.cross()[i][a][h];
    double hidden = slopeVariance * (changeC * changeC + change);
    double told = Outlook.TOLD * Outlook.TOLD * variance;
    return Math.abs(shift) + quantile * Math.sqrt(Math.max(hidden, told));
  }

  /**
   * Goes on by a step.
   *
   * @param noise independent standard normals
   */
  void step(int index, double[] noise) {
    int i = Math.min(index, Future.STEPS - 1);
    double beforeC = Thermal.temperatureC(state);
    Thermal.step(state, model.ahead(), Forecast.STEP_S, null);
    double nowC = Thermal.temperatureC(state);
    double byC = index < Future.STEPS ? curves.movedC()[i] : nowC - beforeC;
    referenceC += byC;
    for (int a = 0; a < 3; a++) {
      int at = Member.at(a);
      state[at + Axis.SLOPE] += byC * state[at + Axis.BEND];
      state[at + Axis.SETTLING] *= SETTLING_LEFT;
    }
    int from = 4 * index % (noise.length - 3);
    drive(future.gain()[i], 0, noise[from]);
    for (int a = 0; a < 3; a++) {
      drive(curves.gain()[i][a], joint ? 0 : Member.at(a), noise[from + 1 + a]);
    }
  }

  private void drive(double[] gain, int at, double by) {
    for (int k = 0; gain != null && k < gain.length; k++) {
      state[at + k] += gain[k] * by;
    }
  }
}
