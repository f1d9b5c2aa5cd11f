package soakbench.demo.unit;

import java.util.List;
import java.util.SplittableRandom;
import java.util.stream.IntStream;

/** The demo's trackers as devices. */
public final class DemoUnits {
  public static final String GOOD_LOT = "Barley-2";
  public static final String WORSE_LOT = "Thistle-5";
  private static final double WORSE = 3;

  private DemoUnits() {}

  public static SimulatedUnit drawn(String id, String lot, boolean accelerometer, long seed) {
    double worse = lot.equals(WORSE_LOT) ? WORSE : 1;
    Draw draw = new Draw(new SplittableRandom(seed ^ id.hashCode() * 0x9E3779B97F4A7C15L));
    return UnitGenerator.unit(id, lot, worse, accelerometer, draw);
  }

  /** Quiet and nearly flat: nothing but its temperature keeps it from being ready. */
  public static SimulatedUnit easy(SimulatedUnit unit) {
    return withCurves(unit, new double[] {0.006, -0.009, 0.004}, 0.006, 3);
  }

  /** So steep and noisy that no room is steady enough for it. */
  public static SimulatedUnit hopeless(SimulatedUnit unit) {
    return withCurves(unit, new double[] {0.45, -0.30, 0.52}, 0.22, 220);
  }

  private static SimulatedUnit withCurves(
      SimulatedUnit unit, double[] slopes, double whiteDps, double flickerDegPerH) {
    List<Axis> axes =
        IntStream.range(0, 3)
            .mapToObj(i -> axis(unit.axes().get(i), slopes[i], whiteDps, flickerDegPerH))
            .toList();
    return unit.withAxes(axes);
  }

  private static Axis axis(Axis axis, double slope, double whiteDps, double flickerDegPerH) {
    Axis.Noise noise = new Axis.Noise(whiteDps, flickerDegPerH, axis.noise().walkDpsPerSqrtS());
    return new Axis(
            axis.coefficients(),
            axis.lagDpsPerCPerS(),
            axis.gravityDpsPerG(),
            Axis.Settling.NONE,
            noise)
        .withSlope(slope);
  }
}
