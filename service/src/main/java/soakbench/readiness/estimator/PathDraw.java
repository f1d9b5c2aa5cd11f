package soakbench.readiness.estimator;

import soakbench.model.Limits;

/**
 * Paths that one filter's means may take, driven by innovations of the size that it expects, and
 * what the test will say of them. So a path is what will be believed, not what is true: close at
 * hand the two differ by what can't be learned any more. One path at a time; not thread-safe.
 */
final class PathDraw {
  private static final int HORIZONS = RoomLaw.AHEAD_S.length;
  private static final int SIZE = Thermal.SIZE + 3 * Axis.SIZE;

  private final Future future;
  private final RoomLaw law;
  private final double[] start = new double[SIZE];
  private final double startReferenceC;
  private final double[] state = new double[SIZE];
  private double referenceC;
  private final double[] row = new double[SIZE];
  private final double[] settled = new double[HORIZONS];

  PathDraw(Part part, Future future) {
    this.future = future;
    this.law = part.member().law();
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
      settled[h] = Math.exp(-RoomLaw.AHEAD_S[h] / Axis.SETTLING_S) - 1;
    }
  }

  /** Begins another path. */
  void begin() {
    System.arraycopy(start, 0, state, 0, SIZE);
    referenceC = startReferenceC;
  }

  /**
   * By how much the worst of band, rate and shift will be over its limit after so many steps, as a
   * part of it; not positive where all hold.
   */
  double over(int step, Limits limits) {
    double[] half = future.half()[Math.min(step, future.last())];
    double celsius = state[Thermal.BODY] + state[Thermal.CHIP];
    double band = (limits.bandHighC() - limits.bandLowC()) / 2;
    double middle = (limits.bandHighC() + limits.bandLowC()) / 2;
    double worst = Math.abs(celsius - middle) / band - 1;
    double rate =
        state[Thermal.SLOPE] + state[Thermal.SWING] - state[Thermal.CHIP] / Thermal.CHIP_S;
    double rateLimit = limits.temperatureRateLimitCPerMin() / 60;
    worst = Math.max(worst, (Math.abs(rate) + half[0]) / rateLimit - 1);
    double x = celsius - referenceC;
    for (int h = 0; h < HORIZONS; h++) {
      law.changeRow(h, state[Thermal.INVERSE], state[Thermal.SLOPE], row);
      double change = law.change(h, state, row);
      for (int a = 0; a < 3; a++) {
        int at = Member.at(a);
        double shift =
            change * (state[at + Axis.SLOPE] + state[at + Axis.BEND] * (x + change / 2))
                + state[at + Axis.SETTLING] * settled[h];
        double reach = Math.abs(shift) + half[1 + a * HORIZONS + h];
        worst = Math.max(worst, reach / limits.shiftLimitDps() - 1);
      }
    }
    return worst;
  }

  /**
   * Goes on by a step.
   *
   * @param noise independent standard normals
   */
  void step(int index, double[] noise) {
    int i = Math.min(index, future.last());
    double beforeC = state[Thermal.BODY] + state[Thermal.CHIP];
    Thermal.step(state, law.ahead(), Forecast.STEP_S, null);
    double now = state[Thermal.BODY] + state[Thermal.CHIP];
    double by = index <= future.last() ? future.moved()[i] : now - beforeC;
    referenceC += by;
    double left = Math.exp(-Forecast.STEP_S / Axis.SETTLING_S);
    for (int a = 0; a < 3; a++) {
      int at = Member.at(a);
      state[at + Axis.SLOPE] += by * state[at + Axis.BEND];
      state[at + Axis.SETTLING] *= left;
    }
    int from = 4 * index % (noise.length - 3);
    for (int g = 0; g < 4; g++) {
      double[] gain = future.gains()[i][g];
      for (int k = 0; gain != null && k < SIZE; k++) {
        state[k] += gain[k] * noise[from + g];
      }
    }
  }
}
