package soakbench.readiness.estimator;

import soakbench.model.Limits;

/**
 * Paths drawn from one filter: temperatures, coefficients and settling as they may truly be, run
 * forward with what the room may do, and what the test will say of them. One path at a time; not
 * thread-safe.
 */
final class PathDraw {
  private static final int[] THERMAL = {0, 1, 2, 3, 4, 5};
  private static final int HORIZONS = RoomLaw.AHEAD_S.length;
  private static final int FIRST_NOISES = 24;

  private final Part part;
  private final double[][] widths;
  private final RoomLaw law;
  private final double[] root;
  private final double[] stirRoot;
  private final double[] state = new double[Thermal.SIZE];
  private final double[] slope = new double[3];
  private final double[] bend = new double[3];
  private final double[] settling = new double[3];
  private final double[][] rows = new double[HORIZONS][];
  private final double[] settled = new double[HORIZONS];
  private final int[] jointEntries;

  PathDraw(Part part, double[][] widths) {
    this.part = part;
    this.widths = widths;
    this.law = part.member().law();
    this.jointEntries = part.axes().length == 0 ? jointEntries() : null;
    this.root =
        Cholesky.root(part.member().belief(), jointEntries == null ? THERMAL : jointEntries);
    double[] stir = new double[9];
    for (int i = 0; i < 9; i++) {
      stir[i] = law.ahead().stir()[i] * law.swingVariance();
    }
    this.stirRoot = Cholesky.root(stir, 3);
    for (int h = 0; h < HORIZONS; h++) {
      rows[h] = new double[part.member().belief().size()];
      settled[h] = Math.exp(-RoomLaw.AHEAD_S[h] / Axis.SETTLING_S) - 1;
    }
  }

  private static int[] jointEntries() {
    int[] out = new int[Thermal.SIZE + 9];
    for (int i = 0; i < Thermal.SIZE; i++) {
      out[i] = i;
    }
    for (int a = 0; a < 3; a++) {
      out[Thermal.SIZE + 3 * a] = Member.at(a) + Axis.SLOPE;
      out[Thermal.SIZE + 3 * a + 1] = Member.at(a) + Axis.BEND;
      out[Thermal.SIZE + 3 * a + 2] = Member.at(a) + Axis.SETTLING;
    }
    return out;
  }

  /**
   * Draws another path.
   *
   * @param noise independent standard normals
   */
  void begin(double[] noise) {
    Belief b = part.member().belief();
    for (int i = 0; i < Thermal.SIZE; i++) {
      state[i] = b.mean(i) + Cholesky.part(root, rootSize(), i, noise, 0);
    }
    state[Thermal.INVERSE] = Math.max(state[Thermal.INVERSE], 0.4 / law.tauS());
    for (int a = 0; a < 3; a++) {
      if (jointEntries == null) {
        drawAxis(a, noise, Thermal.SIZE + 5 * a);
      } else {
        int at = Member.at(a);
        int from = Thermal.SIZE + 3 * a;
        slope[a] = b.mean(at + Axis.SLOPE) + Cholesky.part(root, rootSize(), from, noise, 0);
        bend[a] = b.mean(at + Axis.BEND) + Cholesky.part(root, rootSize(), from + 1, noise, 0);
        settling[a] =
            b.mean(at + Axis.SETTLING) + Cholesky.part(root, rootSize(), from + 2, noise, 0);
      }
    }
    for (int h = 0; h < HORIZONS; h++) {
      law.changeRow(h, state[Thermal.INVERSE], state[Thermal.SLOPE], rows[h]);
    }
  }

  private int rootSize() {
    return jointEntries == null ? Thermal.SIZE : jointEntries.length;
  }

  private void drawAxis(int a, double[] noise, int from) {
    double u = Normal.below(noise[from]);
    int f = 0;
    double passed = part.flickerShare(a, 0);
    while (passed < u && f < part.flickers() - 1) {
      passed += part.flickerShare(a, ++f);
    }
    Belief b = part.axis(a, f);
    double[] r = Cholesky.root(b, new int[] {Axis.SLOPE, Axis.BEND, Axis.SETTLING});
    slope[a] = b.mean(Axis.SLOPE) + Cholesky.part(r, 3, 0, noise, from + 1);
    bend[a] = b.mean(Axis.BEND) + Cholesky.part(r, 3, 1, noise, from + 1);
    settling[a] = b.mean(Axis.SETTLING) + Cholesky.part(r, 3, 2, noise, from + 1);
  }

  /**
   * By how much the worst of band, rate and shift will be over its limit after so many steps, as a
   * part of it; not positive where all hold.
   */
  double over(int step, Limits limits) {
    double celsius = state[Thermal.BODY] + state[Thermal.CHIP];
    double half = (limits.bandHighC() - limits.bandLowC()) / 2;
    double middle = (limits.bandHighC() + limits.bandLowC()) / 2;
    double worst = Math.abs(celsius - middle) / half - 1;
    double[] w =
        widths[Math.min(widths.length - 1, (int) (step * Forecast.STEP_S / Widths.STEP_S))];
    double rate =
        state[Thermal.SLOPE] + state[Thermal.SWING] - state[Thermal.CHIP] / Thermal.CHIP_S;
    double rateLimit = limits.temperatureRateLimitCPerMin() / 60;
    worst = Math.max(worst, (Math.abs(rate) + width(step, 0)) / rateLimit - 1);
    double x = celsius - part.referenceC();
    double left = Math.exp(-step * Forecast.STEP_S / Axis.SETTLING_S);
    for (int h = 0; h < HORIZONS; h++) {
      double change = law.change(h, state, rows[h]);
      for (int a = 0; a < 3; a++) {
        double shift =
            change * (slope[a] + bend[a] * (x + change / 2)) + settling[a] * left * settled[h];
        double reach = Math.abs(shift) + width(step, 1 + a * HORIZONS + h);
        worst = Math.max(worst, reach / limits.shiftLimitDps() - 1);
      }
    }
    return worst;
  }

  private double width(int step, int k) {
    double at = Math.min(widths.length - 1.0, step * Forecast.STEP_S / Widths.STEP_S);
    int i = Math.min(widths.length - 2, (int) at);
    return widths[i][k] + (at - i) * (widths[i + 1][k] - widths[i][k]);
  }

  /** Goes on by a step. */
  void step(int index, double[] noise) {
    int from = FIRST_NOISES + 4 * index % (noise.length - FIRST_NOISES - 4);
    Thermal.step(state, law.ahead(), Forecast.STEP_S, null);
    double k = Thermal.inverse(state);
    double sum = Cholesky.part(stirRoot, 3, 0, noise, from);
    state[Thermal.BODY] += sum;
    state[Thermal.SLOPE] +=
        -k * sum + k * Math.sqrt(Thermal.LEVEL_DENSITY * Forecast.STEP_S) * noise[from + 3];
    state[Thermal.SWING] += Cholesky.part(stirRoot, 3, 1, noise, from);
    state[Thermal.SWING_RATE] += Cholesky.part(stirRoot, 3, 2, noise, from);
  }
}
