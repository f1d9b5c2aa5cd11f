package soakbench.lots;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import soakbench.drift.curve.BiasCurve;
import soakbench.drift.heading.Heading;
import soakbench.drift.noise.Noise;
import soakbench.model.Axes;
import soakbench.model.Estimate;
import soakbench.thermal.WarmUpCurve;

/**
 * The figures of one soak by which trackers are compared. Its parts are not grouped: it is stored
 * by their names, and what older releases stored must still be read.
 *
 * @param operatingC temperature at which bias and coefficient are given, degC; null without a curve
 * @param lowC lowest temperature covered, degC; null without a curve
 * @param highC highest temperature covered, degC; null without a curve
 * @param useC temperature in use, degC
 * @param plateauC where the temperature levels, degC
 * @param timeConstantS of the body, s
 * @param timeConstantPriorOnly whether that is what is believed of any body, not what the soak
 *     shows
 * @param sampleRateHz median readings a second; null where not known
 * @param axes x, y, z
 * @param degPerMin heading error rate of a calibration at the newest temperature, used at {@code
 *     useC}, deg/min
 * @param minutesTo5Deg minutes until five degrees of error
 * @param restingG gravity in the newest still minute, g, x y z; null without an accelerometer
 */
public record SoakFigures(
    Double operatingC,
    Double lowC,
    Double highC,
    double useC,
    Estimate plateauC,
    Estimate timeConstantS,
    boolean timeConstantPriorOnly,
    Double sampleRateHz,
    List<AxisFigures> axes,
    Estimate degPerMin,
    Estimate minutesTo5Deg,
    double[] restingG) {

  public SoakFigures {
    Objects.requireNonNull(plateauC, "plateauC");
    Objects.requireNonNull(timeConstantS, "timeConstantS");
    axes = List.copyOf(axes);
    if (axes.size() != Axes.NAMES.size()) {
      throw new IllegalArgumentException("there are three axes, not " + axes.size());
    }
    Objects.requireNonNull(degPerMin, "degPerMin");
    Objects.requireNonNull(minutesTo5Deg, "minutesTo5Deg");
  }

  /** Takes them out of a soak's curves. */
  public static SoakFigures of(
      WarmUpCurve warmUp, BiasCurve curve, Noise noise, Heading heading, double[] restingG) {
    boolean known = curve.reason() == null;
    List<AxisFigures> axes = new ArrayList<>();
    for (int i = 0; i < Axes.NAMES.size(); i++) {
      axes.add(axis(Axes.NAMES.get(i), curve, noise, i));
    }
    return new SoakFigures(
        curve.temperatures().operatingC(),
        known ? curve.temperatures().rangeC()[0] : null,
        known ? curve.temperatures().rangeC()[1] : null,
        heading.asked().useC(),
        warmUp.plateauC(),
        body(warmUp),
        warmUp.priorOnly(),
        noise.sampleRateHz(),
        List.copyOf(axes),
        heading.degPerMin(),
        heading.minutesTo5Deg(),
        restingG);
  }

  /** No figures at all, and why. */
  public static SoakFigures unknown(double useC, String reason) {
    Estimate none = Estimate.unknown(reason);
    List<AxisFigures> axes =
        Axes.NAMES.stream()
            .map(
                a ->
                    new AxisFigures(
                        a, none, none, none, none, null, none, none, none, null, null, null, null))
            .toList();
    return new SoakFigures(null, null, null, useC, none, none, false, null, axes, none, none, null);
  }

  /** The time constant where the soak shows it; a belief that comes back is no measurement. */
  Estimate measuredTimeConstantS() {
    return timeConstantPriorOnly
        ? Estimate.unknown("the soak shows no time constant of its own")
        : timeConstantS;
  }

  private static Estimate body(WarmUpCurve warmUp) {
    List<Estimate> tausS = warmUp.timeConstantsS();
    return tausS.isEmpty()
        ? Estimate.unknown(warmUp.reason() == null ? "no time constant" : warmUp.reason())
        : tausS.get(tausS.size() - 1);
  }

  private static AxisFigures axis(String name, BiasCurve curve, Noise noise, int i) {
    BiasCurve.Axis any = curve.reason() == null ? curve.axes().get(i) : null;
    Estimate noCurve = Estimate.unknown(any == null ? curve.reason() : any.reason());
    Estimate noNoise = Estimate.unknown(noise.reason());
    BiasCurve.Axis c = any != null && any.reason() == null ? any : null;
    Noise.Axis n = noise.reason() == null ? noise.axes().get(i) : null;
    return new AxisFigures(
        name,
        c == null ? noCurve : bias(c),
        c == null ? noCurve : c.figures().tempcoDpsPerC(),
        c == null ? noCurve : c.figures().spanDps(),
        c == null ? noCurve : c.figures().settlingDps(),
        c == null ? null : c.figures().residualSdDps(),
        n == null ? noNoise : n.angleRandomWalkDegPerSqrtH(),
        n == null ? noNoise : n.biasInstabilityDegPerH(),
        n == null ? noNoise : n.rateRandomWalkDpsPerSqrtS(),
        c == null ? null : c.powers().coefficients(),
        c == null ? null : c.powers().covariance(),
        c == null ? null : c.powers().limitsSe(),
        c == null ? null : c.powers().repeated());
  }

  /** With as many standard errors to a limit as the slope of the same fit has. */
  private static Estimate bias(BiasCurve.Axis axis) {
    BiasCurve.Powers powers = axis.powers();
    double se = Math.sqrt(Math.max(0, powers.covariance()[0][0]));
    return Estimate.of(powers.coefficients()[0], se, powers.limitsSe());
  }
}
