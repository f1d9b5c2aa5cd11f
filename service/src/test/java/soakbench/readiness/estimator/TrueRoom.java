package soakbench.readiness.estimator;

import java.util.SplittableRandom;

/**
 * What a room adds to its mean temperature over time: a cycle of its heating that was under way
 * before the soak began, a slow drift, some sun.
 *
 * @param halfC half the cycle's swing, degC
 * @param periodS its length, s
 * @param phase where in it the soak begins, 0 to 1
 * @param sawTooth whether it rises and falls straight, else as a sine
 * @param driftCPerS steady drift, degC/s
 * @param sunC how much the sun adds for twenty minutes, degC
 * @param sunFromS when
 */
record TrueRoom(
    double halfC,
    double periodS,
    double phase,
    boolean sawTooth,
    double driftCPerS,
    double sunC,
    double sunFromS) {

  private static final double SUN_S = 1200;
  static final TrueRoom STEADY = new TrueRoom(0, 1, 0, false, 0, 0, 0);

  /** A room for a rough life: 0 steady, 1 usual, 2 nasty, 3 always cycling. */
  static TrueRoom draw(int rough, SplittableRandom random) {
    double[] u = random.doubles(9).toArray();
    double[] cycling = {0, 1 / 3.0, 0.6, 1};
    boolean cycles = u[0] < cycling[rough];
    boolean drifts = rough > 0 && u[1] < 0.3;
    boolean sunny = rough > 1 && u[2] < 0.15;
    return new TrueRoom(
        cycles ? 0.1 + 0.65 * u[3] : 0,
        300 + 1200 * u[4],
        u[5],
        u[6] < 0.5,
        drifts ? (u[7] - 0.5) * 4 / (3 * 3600) : 0,
        sunny ? 0.3 + 1.2 * u[8] : 0,
        600 + 2400 * u[7]);
  }

  boolean cycles() {
    return halfC > 0;
  }

  double atC(double timeS) {
    double at = timeS / periodS + phase;
    double part = at - Math.floor(at);
    double wave =
        sawTooth
            ? part < 0.4 ? 5 * part - 1 : 1 - (part - 0.4) / 0.3
            : Math.sin(2 * Math.PI * part);
    boolean sun = timeS >= sunFromS && timeS < sunFromS + SUN_S;
    return halfC * wave + driftCPerS * timeS + (sun ? sunC : 0);
  }
}
