package soakbench.demo.simulation;

import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.SplittableRandom;
import soakbench.demo.lines.LineStream;
import soakbench.demo.unit.Draw;
import soakbench.demo.unit.Events;
import soakbench.demo.unit.Heating;
import soakbench.demo.unit.Room;
import soakbench.demo.unit.SimulatedUnit;
import soakbench.demo.unit.UnitGenerator;

/**
 * Generates whole runs of random trackers. The same seed gives much the same tracker in each mix,
 * so that what a mix does can be told from what a tracker is.
 */
public final class RecipeGenerator {
  private static final double COARSE_C = 0.5;
  private static final double MIDDLING_C = 0.0625;

  private final Mix mix;
  private final Set<Trouble> sure;
  private final double durationS;
  private final Draw draw;

  /** What surrounds a tracker is drawn apart: the same seed is the same tracker in every room. */
  private final Draw around;

  private final StrangeGenerator strange;
  private final List<String> scenarios = new ArrayList<>();

  private RecipeGenerator(Mix mix, Set<Trouble> sure, double durationS, long seed) {
    this.mix = mix;
    this.sure = sure;
    this.durationS = durationS;
    draw = new Draw(new SplittableRandom(seed));
    around = new Draw(new SplittableRandom(31 * seed + 17));
    strange = mix == Mix.STRANGE ? strange(Strange.of(seed)) : null;
  }

  private StrangeGenerator strange(Strange kind) {
    scenarios.add(kind.word());
    return new StrangeGenerator(kind, around);
  }

  /** Draws a run. The same options give the same recipe. */
  public static Recipe recipe(SimulateOptions options) {
    SimulateOptions.Run run = options.run();
    return new RecipeGenerator(options.mix(), options.sure(), run.durationS(), run.seed())
        .drawn(options);
  }

  private Recipe drawn(SimulateOptions options) {
    SimulateOptions.Subject subject = options.subject();
    boolean accelerometer =
        subject.accelerometer() == null ? draw.chance(0.5) : subject.accelerometer();
    String lot = "lot-" + draw.random().nextInt(3);
    SimulatedUnit unit = UnitGenerator.unit(subject.id(), lot, 1, accelerometer, draw);
    Heating heating = heating();
    SimulatedUnit drawn = varied(unit);
    Events events = events();
    LineStream stream = stream(options.lines());
    return new Recipe(
        drawn,
        subject.correction(),
        heating,
        events,
        stream,
        new Recipe.Run(options.startUs(), durationS, draw.random().nextLong()),
        new Recipe.Origin(mix.word(), scenarios));
  }

  /** A run of a known tracker, from cold. */
  public static Recipe recipe(
      SimulatedUnit unit, Mix mix, long startUs, double durationS, double rateHz, long seed) {
    return new RecipeGenerator(mix, Set.of(), durationS, seed).known(unit, startUs, rateHz);
  }

  private Recipe known(SimulatedUnit unit, long startUs, double rateHz) {
    LineStream.Faults faults = faults();
    LineStream stream =
        new LineStream(
            LineStream.Form.JSON_LINES,
            LineStream.Stamp.TIME,
            rateHz,
            0,
            draw.uniform(0, 40),
            3000,
            faults);
    Heating heating = heating();
    Events events = events();
    return new Recipe(
        unit,
        heating,
        events,
        stream,
        new Recipe.Run(startUs, durationS, draw.random().nextLong()),
        new Recipe.Origin(mix.word(), scenarios));
  }

  private boolean has(Trouble trouble) {
    return has(trouble, draw);
  }

  private boolean has(Trouble trouble, Draw from) {
    double chance = trouble.chance(mix);
    boolean drawn = chance > 0 && from.chance(chance);
    return noted(trouble, drawn || sure.contains(trouble));
  }

  private boolean noted(Trouble trouble, boolean has) {
    if (has) {
      scenarios.add(trouble.word());
    }
    return has;
  }

  private Heating heating() {
    double which = draw.uniform(0, 1);
    double plateau;
    if (which < 0.14) {
      plateau = draw.uniform(25, 27.3);
    } else if (which < 0.24) {
      plateau = draw.uniform(34.6, 37);
    } else {
      plateau = draw.uniform(29, 33.2);
    }
    Heating steady =
        Heating.steady(
            draw.uniform(19, 24),
            plateau,
            draw.uniform(0.8, 3),
            draw.uniform(15, 45),
            draw.uniform(500, 1300));
    Heating heating = steady.in(room());
    return strange == null ? heating : strange.heating(heating);
  }

  private Room room() {
    Room room =
        has(Trouble.HEATING_CYCLE, around)
            ? Room.cycling(around.uniform(0.2, 1.5) / 2, around)
            : Room.STEADY;
    return has(Trouble.ROOM_DRIFT, around) ? room.drifting(around) : room;
  }

  private SimulatedUnit varied(SimulatedUnit unit) {
    SimulatedUnit out = unit;
    // Drawn where it cannot be too, so that a seed stays the run that it was.
    boolean coarse = draw.chance(Trouble.COARSE_THERMOMETER.chance(mix));
    if (noted(Trouble.COARSE_THERMOMETER, coarse || sure.contains(Trouble.COARSE_THERMOMETER))) {
      out = out.withThermometer(COARSE_C);
    } else if (has(Trouble.MIDDLING_THERMOMETER)) {
      out = out.withThermometer(MIDDLING_C);
    }
    if (has(Trouble.SETTLING)) {
      out = UnitGenerator.settling(out, draw);
    }
    if (has(Trouble.STEEP)) {
      out = UnitGenerator.steeper(out, 2);
    }
    if (has(Trouble.STEEP_AXIS)) {
      out = UnitGenerator.steepest(out, around.uniform(0.05, 0.12));
    }
    return strange == null ? out : strange.unit(out);
  }

  private Events events() {
    EventsBuilder builder = new EventsBuilder(durationS, draw);
    if (strange != null) {
      strange.events(builder, durationS);
    }
    if (has(Trouble.PICKED_UP)) {
      builder.pickedUp(1 + draw.random().nextInt(3));
    }
    if (has(Trouble.SLOW_TURN)) {
      builder.slowTurn();
    }
    if (has(Trouble.DROPOUTS)) {
      builder.dropouts(1 + draw.random().nextInt(4));
    }
    if (has(Trouble.LID_OPENED)) {
      builder.uncovered();
    }
    if (has(Trouble.REBOOT)) {
      builder.rebooted();
    }
    if (has(Trouble.SUN, around)) {
      builder.sunFrom(around.uniform(0, durationS), around.uniform(0.3, 1.5));
    }
    return builder.build();
  }

  private LineStream stream(SimulateOptions.Lines lines) {
    boolean wraps = has(Trouble.COUNTER_WRAP);
    long bootMs = wraps ? (1L << 32) - draw.random().nextInt(1, 3_000_000) : 3000;
    double rateHz = strange == null ? lines.rateHz() : strange.rateHz(lines.rateHz());
    return new LineStream(
        lines.form(),
        lines.stamp(),
        rateHz,
        draw.uniform(0.002, 0.02),
        draw.uniform(0, 40),
        bootMs,
        faults());
  }

  private LineStream.Faults faults() {
    if (mix == Mix.CLEAN) {
      return LineStream.Faults.NONE;
    }
    scenarios.add("chatter");
    if (mix != Mix.NASTY) {
      return new LineStream.Faults(true, 6, 0, 0);
    }
    scenarios.add("dirty");
    return new LineStream.Faults(true, 60, 30, 20);
  }
}
