package soakbench.demo.unit;

import java.util.ArrayList;
import java.util.List;

/** Generates trackers: what their gyros, thermometers and clocks are like. */
public final class UnitGenerator {
  private static final double FINE_C = 1.0 / 256;

  private UnitGenerator() {}

  /**
   * A tracker.
   *
   * @param worse factor on the temperature coefficients, its root on the flicker; 1 for a usual lot
   */
  public static SimulatedUnit unit(
      String id, String lot, double worse, boolean accelerometer, Draw draw) {
    double white = draw.logUniform(0.004, 0.02);
    double flicker = Math.sqrt(worse) * draw.logUniform(2.5, 14);
    double walk = draw.logUniform(3e-6, 1.5e-5);
    List<Axis> axes =
        List.of(
            axis(worse, white, flicker, walk, draw),
            axis(worse, white, flicker, walk, draw),
            axis(worse, white, flicker, walk, draw));
    return new SimulatedUnit(
        id,
        lot,
        axes,
        0.004,
        new SimulatedUnit.Readout(
            FINE_C,
            draw.uniform(0.01, 0.05),
            draw.oneOf(0.001, 0.0038, 0.0076, 0.0153),
            accelerometer),
        draw.uniform(-200, 200));
  }

  private static Axis axis(double worse, double white, double flicker, double walk, Draw draw) {
    double slope = Math.max(-0.06, Math.min(0.06, draw.normal(0.015)));
    double[] curve = {
      draw.uniform(-0.9, 0.9), worse * slope, draw.normal(5e-4), draw.normal(2.5e-5)
    };
    double lag = draw.normal(0.12);
    Axis.Noise noise =
        new Axis.Noise(white * draw.uniform(0.88, 1.12), flicker * draw.uniform(0.8, 1.2), walk);
    double[] gravity = {draw.normal(0.004), draw.normal(0.004), draw.normal(0.004)};
    return new Axis(curve, lag, gravity, Axis.Settling.NONE, noise);
  }

  /**
   * The same tracker with slopes that scatter about those of a law.
   *
   * @param lawDpsPerC slopes of x, y, z about 31 degC, deg/s for each degC
   * @param spreadDpsPerC standard deviation of the scatter, likewise
   */
  public static SimulatedUnit aboutLaw(
      SimulatedUnit unit, double[] lawDpsPerC, double spreadDpsPerC, Draw draw) {
    List<Axis> axes = new ArrayList<>();
    for (int i = 0; i < lawDpsPerC.length; i++) {
      axes.add(unit.axes().get(i).withSlope(lawDpsPerC[i] + draw.normal(spreadDpsPerC)));
    }
    return unit.withAxes(axes);
  }

  /** The same tracker, settling after each power-on. */
  public static SimulatedUnit settling(SimulatedUnit unit, Draw draw) {
    return unit.withAxes(
        unit.axes().stream()
            .map(axis -> axis.with(new Axis.Settling(draw.normal(0.04), draw.uniform(200, 400))))
            .toList());
  }

  /** The same tracker with its slopes made steeper. */
  public static SimulatedUnit steeper(SimulatedUnit unit, double factor) {
    return unit.withAxes(
        unit.axes().stream().map(axis -> axis.withSlope(axis.coefficients()[1] * factor)).toList());
  }

  /** The same tracker with its slopes made steeper, so that the steepest axis has this one. */
  public static SimulatedUnit steepest(SimulatedUnit unit, double dpsPerC) {
    return steeper(unit, dpsPerC / unit.steepestDpsPerC());
  }
}
