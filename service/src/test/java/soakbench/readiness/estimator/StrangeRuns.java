package soakbench.readiness.estimator;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import soakbench.demo.simulation.EventMaker;
import soakbench.demo.simulation.Mix;
import soakbench.demo.simulation.Recipe;
import soakbench.demo.unit.Draw;
import soakbench.demo.unit.Events;
import soakbench.demo.unit.Heating;
import soakbench.demo.unit.SimulatedUnit;
import soakbench.demo.unit.UnitMaker;

/** Trackers outside what the estimator believes in; none of its figures was chosen on them. */
final class StrangeRuns {
  static final List<String> KINDS =
      List.of(
          "two slow masses",
          "room of 3 degC",
          "handled every five minutes",
          "body of 60 s",
          "body of 3000 s",
          "0.1 deg/s per degC",
          "0.2 deg/s per degC",
          "0.5 Hz",
          "2 Hz",
          "thermometer every 10 s");

  private StrangeRuns() {}

  static TrackedRun of(String kind, long seed) {
    Recipe r = TrackedRun.recipe(Mix.USUAL, seed);
    SplittableRandom random = new SplittableRandom(seed);
    Heating h = r.heating();
    double body =
        switch (kind) {
          case "body of 60 s" -> 60;
          case "body of 3000 s" -> 3000;
          default -> h.bodyS();
        };
    double steep =
        switch (kind) {
          case "0.1 deg/s per degC" -> 0.1;
          case "0.2 deg/s per degC" -> 0.2;
          default -> 0;
        };
    double rateHz =
        switch (kind) {
          case "0.5 Hz" -> 0.5;
          case "2 Hz" -> 2;
          default -> 10;
        };
    SimulatedUnit unit = r.unit();
    if (steep > 0) {
      unit = UnitMaker.steeper(unit, steep / TrackedRun.steepest(unit));
    }
    boolean wide = kind.equals("room of 3 degC");
    TrueRoom room =
        wide
            ? new TrueRoom(
                1.5, 300 + 1200 * random.nextDouble(), random.nextDouble(), true, 0, 0, 0)
            : TrueRoom.draw(1, random);
    Events events = kind.equals("handled every five minutes") ? handled(random) : r.events();
    return new TrackedRun(
        unit,
        Heating.steady(h.startC(), h.plateauC(), h.selfHeatC(), h.chipS(), body),
        events,
        rateHz,
        room,
        seed,
        kind.equals("two slow masses") ? 2500 : 0,
        r.stream().firstS(),
        kind.equals("thermometer every 10 s") ? 10 : 0,
        new ArrayList<>(List.of(kind)));
  }

  private static Events handled(SplittableRandom random) {
    EventMaker maker = new EventMaker(TrackedRun.SECONDS, new Draw(random));
    for (int s = 300; s < TrackedRun.SECONDS; s += 300) {
      maker.pickedUpAt(s + 20 * random.nextDouble(), 8, random.nextBoolean() ? 90 : 0);
    }
    return maker.build();
  }
}
