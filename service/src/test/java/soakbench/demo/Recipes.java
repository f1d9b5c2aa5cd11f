package soakbench.demo;

import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import soakbench.demo.lines.LineBuffer;
import soakbench.demo.lines.LineStream;
import soakbench.demo.simulation.Recipe;
import soakbench.demo.simulation.SimulatedTracker;
import soakbench.demo.unit.Axis;
import soakbench.demo.unit.Events;
import soakbench.demo.unit.Heating;
import soakbench.demo.unit.SimulatedUnit;

/** Plain recipes for tests, and what comes out of them. */
public final class Recipes {
  public static final long START_US = 1_767_254_400_000_000L; // 2026-01-01T08:00:00Z

  private Recipes() {}

  public static Axis silentAxis(double... coefficients) {
    return axis(Arrays.copyOf(coefficients, 4), 0, 0, 0);
  }

  static Axis axis(double[] coefficients, double whiteDps, double flickerDegPerH, double walk) {
    return new Axis(
        coefficients,
        0,
        new double[3],
        Axis.Settling.NONE,
        new Axis.Noise(whiteDps, flickerDegPerH, walk));
  }

  public static SimulatedUnit unit(Axis axis) {
    return new SimulatedUnit(
        "TEST-1", "lot", List.of(axis, axis, axis), 0, new SimulatedUnit.Readout(0, 0, 0, true), 0);
  }

  public static Recipe run(SimulatedUnit unit, Heating heating, Events events, double durationS) {
    return run(unit, heating, events, LineStream.clean(10), durationS);
  }

  public static Recipe run(
      SimulatedUnit unit, Heating heating, Events events, LineStream stream, double durationS) {
    return new Recipe(
        unit,
        heating,
        events,
        stream,
        new Recipe.Run(START_US, durationS, 4711),
        new Recipe.Origin("clean", List.of()));
  }

  public static byte[] bytes(Recipe recipe) {
    SimulatedTracker tracker = new SimulatedTracker(recipe);
    LineBuffer buffer = new LineBuffer();
    while (tracker.nextUs() != Long.MAX_VALUE) {
      tracker.next(buffer);
    }
    return Arrays.copyOf(buffer.bytes(), buffer.length());
  }

  public static List<String> lines(Recipe recipe) {
    String text = new String(bytes(recipe), StandardCharsets.UTF_8);
    return new ArrayList<>(text.lines().toList());
  }
}
