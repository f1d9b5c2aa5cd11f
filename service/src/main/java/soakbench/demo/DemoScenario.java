package soakbench.demo;

import java.util.List;
import java.util.SplittableRandom;
import java.util.function.UnaryOperator;
import soakbench.demo.lines.LineStream;
import soakbench.demo.simulation.EventsBuilder;
import soakbench.demo.simulation.Recipe;
import soakbench.demo.unit.DemoUnits;
import soakbench.demo.unit.Draw;
import soakbench.demo.unit.Events;
import soakbench.demo.unit.Heating;
import soakbench.demo.unit.SimulatedUnit;
import soakbench.demo.unit.Span;
import soakbench.model.Tracker;

/**
 * The scenario: Millrace Yard, a small workshop that does not exist, warms two lots of six trackers
 * on two benches. Times are seconds of simulated time; thirty of them pass in a second.
 */
final class DemoScenario {
  private static final String WINDOW = "window bench";
  private static final String STOVE = "stove bench";
  private static final double RATE_HZ = 10;

  /** Fewer lines than one in two seconds: motion could hide between them. */
  private static final double SLOW_HZ = 0.4;

  private final long seed;
  private final long startUs;
  private final SplittableRandom random;

  DemoScenario(long seed, long startUs) {
    this.seed = seed;
    this.startUs = startUs;
    this.random = new SplittableRandom(seed);
  }

  /** All twelve, in the order of their slots. */
  List<DemoTracker> trackers() {
    return List.of(
        alder(), rowan(), hazel(), larch(), aspen(), linden(), maple(), elder(), holly(), birch(),
        yew(), poplar());
  }

  /** The first that gets ready, and the one that is calibrated. */
  private DemoTracker alder() {
    SimulatedUnit unit = DemoUnits.easy(DemoUnits.drawn("MRY-01", DemoUnits.GOOD_LOT, true, seed));
    Recipe recipe =
        recipe(unit, Heating.steady(27.2, 31, 0.8, 15, 290), 4800, e -> e.calibratedAt(2700));
    return tracker("Alder", WINDOW, "W1", new DemoSoak(recipe));
  }

  private DemoTracker rowan() {
    SimulatedUnit unit = DemoUnits.drawn("MRY-02", DemoUnits.GOOD_LOT, true, seed);
    Heating heating = Heating.steady(22.1, 31.4, 1.2, 22, 620);
    return tracker("Rowan", WINDOW, "W2", new DemoSoak(recipe(unit, heating, 5400, e -> e)));
  }

  /** Picked up when it is ready or nearly so, and again later. */
  private DemoTracker hazel() {
    SimulatedUnit unit = DemoUnits.drawn("MRY-03", DemoUnits.WORSE_LOT, true, seed);
    Heating heating = Heating.steady(25.4, 30.2, 1.0, 20, 500);
    Recipe recipe =
        recipe(
            unit,
            heating,
            6000,
            e -> e.pickedUpAt(1650, 9, 0).pickedUpAt(2900, 6, 0).pickedUpAt(4100, 12, 75));
    return tracker("Hazel", WINDOW, "W3", new DemoSoak(recipe));
  }

  /** Stalls below the band until somebody lays another cover on it. */
  private DemoTracker larch() {
    SimulatedUnit unit = DemoUnits.drawn("MRY-04", DemoUnits.GOOD_LOT, true, seed);
    Heating heating = Heating.steady(21.3, 26.2, 1.5, 28, 640);
    Recipe recipe = recipe(unit, heating, 10_800, e -> e.uncoveredFrom(5400, -4.7));
    return tracker("Larch", WINDOW, "W4", new DemoSoak(recipe));
  }

  /** Cut off: its cable comes out for nine minutes. */
  private DemoTracker aspen() {
    SimulatedUnit unit = DemoUnits.drawn("MRY-05", DemoUnits.WORSE_LOT, false, seed);
    Recipe recipe = recipe(unit, Heating.steady(23.2, 31.2, 1.4, 26, 760), 6600, e -> e);
    DemoSoak soak = new DemoSoak(recipe, List.of(new Span(1000, 1540)));
    return tracker("Aspen", WINDOW, "W5", soak);
  }

  /** The bad one: steep, noisy, and the room's heating reaches it. */
  private DemoTracker linden() {
    SimulatedUnit unit =
        DemoUnits.hopeless(DemoUnits.drawn("MRY-06", DemoUnits.WORSE_LOT, true, seed));
    Heating heating = Heating.steady(26.0, 31.0, 1.1, 20, 520).cycling(0.8, 600);
    return tracker("Linden", WINDOW, "W6", new DemoSoak(recipe(unit, heating, 9000, e -> e)));
  }

  /** Its cover is opened for three minutes when it is nearly there. */
  private DemoTracker maple() {
    SimulatedUnit unit = DemoUnits.drawn("MRY-07", DemoUnits.WORSE_LOT, true, seed);
    Heating heating = Heating.steady(20.7, 30.6, 1.6, 30, 1240);
    return tracker(
        "Maple",
        STOVE,
        "S1",
        new DemoSoak(recipe(unit, heating, 8100, e -> e.uncoveredAt(1500, 180, 5))));
  }

  /** Laid on the rack, cold, a minute and a half of watching after the first ones. */
  private DemoTracker elder() {
    SimulatedUnit unit = DemoUnits.drawn("MRY-08", DemoUnits.WORSE_LOT, false, seed);
    Heating heating = Heating.steady(19.6, 31.9, 1.8, 33, 1290);
    return tracker(
        "Elder",
        STOVE,
        "S2",
        new DemoSoak(recipe(unit, heating, 8700, e -> e.dropouts(2)).later(2700)));
  }

  /** Charging under a cover: gets hot, is uncovered, cools into the band. */
  private DemoTracker holly() {
    SimulatedUnit unit = DemoUnits.drawn("MRY-09", DemoUnits.GOOD_LOT, true, seed);
    Heating heating = Heating.steady(23.9, 49.5, 2.4, 24, 700);
    Recipe recipe = recipe(unit, heating, 8400, e -> e.uncoveredFrom(1900, 19.2));
    return tracker("Holly", STOVE, "S3", new DemoSoak(recipe));
  }

  /** Comes warm from its charger and cools into the band. */
  private DemoTracker birch() {
    SimulatedUnit unit = DemoUnits.drawn("MRY-10", DemoUnits.GOOD_LOT, true, seed);
    Heating heating = Heating.steady(38.4, 30.4, 0.9, 25, 780);
    return tracker("Birch", STOVE, "S4", new DemoSoak(recipe(unit, heating, 5700, e -> e)));
  }

  /** Prints too seldom to be judged. */
  private DemoTracker yew() {
    SimulatedUnit unit = DemoUnits.drawn("MRY-11", DemoUnits.WORSE_LOT, false, seed);
    Recipe recipe = recipe(unit, Heating.steady(24.8, 30.9, 1.3, 27, 560), 9000, e -> e);
    return tracker("Yew", STOVE, "S5", new DemoSoak(recipe.with(LineStream.clean(SLOW_HZ))));
  }

  /** Laid on the rack, cold, a minute of watching after the first ones. */
  private DemoTracker poplar() {
    SimulatedUnit unit = DemoUnits.drawn("MRY-12", DemoUnits.GOOD_LOT, true, seed);
    Recipe recipe = recipe(unit, Heating.steady(19.8, 32.4, 1.5, 30, 840), 8400, e -> e);
    LineStream chattering =
        new LineStream(
            LineStream.Form.JSON_LINES,
            LineStream.Stamp.TIME,
            RATE_HZ,
            0,
            0,
            3000,
            new LineStream.Faults(true, 6, 0, 0));
    return tracker("Poplar", STOVE, "S6", new DemoSoak(recipe.with(chattering).later(1800)));
  }

  private Recipe recipe(
      SimulatedUnit unit, Heating heating, double durationS, UnaryOperator<EventsBuilder> happens) {
    EventsBuilder events = new EventsBuilder(durationS, new Draw(random.split()));
    Events happened = happens.apply(events).build();
    Recipe.Run run = new Recipe.Run(startUs, durationS, random.nextLong());
    return new Recipe(
        unit,
        heating,
        happened,
        LineStream.clean(RATE_HZ),
        run,
        new Recipe.Origin("demo", List.of()));
  }

  private static DemoTracker tracker(String name, String rack, String slot, DemoSoak soak) {
    SimulatedUnit unit = soak.recipe().unit();
    Tracker.Power power = name.equals("Holly") ? Tracker.Power.USB : Tracker.Power.BATTERY;
    Tracker tracker =
        new Tracker(
            unit.id(), name, unit.lot(), "", "", rack, slot, power, Tracker.Rates.RAW, 0, "");
    return new DemoTracker(tracker, soak, !soak.pulled().isEmpty());
  }
}
