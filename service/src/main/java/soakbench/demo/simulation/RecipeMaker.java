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
import soakbench.demo.unit.UnitMaker;

/**
 * Draws whole runs of random trackers. The same seed gives much the same tracker in each mix, so
 * that what a mix does can be told from what a tracker is.
 */
public final class RecipeMaker {
  private static final double COARSE_C = 0.5;
  private static final double MIDDLING_C = 0.0625;

  private final Mix mix;
  private final Set<Trouble> sure;
  private final double durationS;
  private final Draw draw;

  /** What surrounds a tracker is drawn apart: the same seed is the same tracker in every room. */
  private final Draw around;

  private final StrangeMaker strange;
  private final List<String> scenarios = new ArrayList<>();

  private RecipeMaker(Mix mix, Set<Trouble> sure, double durationS, long seed) {
    this.mix = mix;
    this.sure = sure;
    this.durationS = durationS;
    draw = new Draw(new SplittableRandom(seed));
    around = new Draw(new SplittableRandom(31 * seed + 17));
    strange = mix == Mix.STRANGE ? strange(Strange.of(seed)) : null;
  }

  private StrangeMaker strange(Strange kind) {
    scenarios.add(kind.word());
    return new StrangeMaker(kind, around);
  }

  /** Draws a run. The same options give the same recipe. */
  public static Recipe recipe(SimulateOptions options) {
    SimulateOptions.Run run = options.run();
    return new RecipeMaker(options.mix(), options.sure(), run.durationS(), run.seed())
        .drawn(options);
  }

  private Recipe drawn(SimulateOptions options) {
    SimulateOptions.Subject subject = options.subject();
    boolean accelerometer =
        subject.accelerometer() == null ? draw.chance(0.5) : subject.accelerometer();
    String lot = "lot-" + draw.random().nextInt(3);
    SimulatedUnit unit = UnitMaker.unit(subject.id(), lot, 1, accelerometer, draw);
    Heating heating = heating();
    SimulatedUnit drawn = character(unit);
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
    return new RecipeMaker(mix, Set.of(), durationS, seed).known(unit, startUs, rateHz);
  }

  private Recipe known(SimulatedUnit unit, long startUs, double rateHz) {
    LineStream.Dirt dirt = dirt();
    LineStream stream =
        new LineStream(
            LineStream.Form.JSON_LINES,
            LineStream.Stamp.TIME,
            rateHz,
            0,
            draw.between(0, 40),
            3000,
            dirt);
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
    double which = draw.between(0, 1);
    double plateau;
    if (which < 0.14) {
      plateau = draw.between(25, 27.3);
    } else if (which < 0.24) {
      plateau = draw.between(34.6, 37);
    } else {
      plateau = draw.between(29, 33.2);
    }
    Heating steady =
        Heating.steady(
            draw.between(19, 24),
            plateau,
            draw.between(0.8, 3),
            draw.between(15, 45),
            draw.between(500, 1300));
    Heating heating = steady.in(room());
    return strange == null ? heating : strange.heating(heating);
  }

  private Room room() {
    Room room =
        has(Trouble.HEATING_CYCLE, around)
            ? Room.cycling(around.between(0.2, 1.5) / 2, around)
            : Room.STEADY;
    return has(Trouble.ROOM_DRIFT, around) ? room.drifting(around) : room;
  }

  private SimulatedUnit character(SimulatedUnit unit) {
    SimulatedUnit out = unit;
    // Drawn where it cannot be too, so that a seed stays the run that it was.
    boolean coarse = draw.chance(Trouble.COARSE_THERMOMETER.chance(mix));
    if (noted(Trouble.COARSE_THERMOMETER, coarse || sure.contains(Trouble.COARSE_THERMOMETER))) {
      out = out.withThermometer(COARSE_C);
    } else if (has(Trouble.MIDDLING_THERMOMETER)) {
      out = out.withThermometer(MIDDLING_C);
    }
    if (has(Trouble.SETTLING)) {
      out = UnitMaker.settling(out, draw);
    }
    if (has(Trouble.STEEP)) {
      out = UnitMaker.steeper(out, 2);
    }
    if (has(Trouble.STEEP_AXIS)) {
      out = UnitMaker.steepest(out, around.between(0.05, 0.12));
    }
    return strange == null ? out : strange.unit(out);
  }

  private Events events() {
    EventMaker maker = new EventMaker(durationS, draw);
    if (strange != null) {
      strange.events(maker, durationS);
    }
    if (has(Trouble.PICKED_UP)) {
      maker.pickedUp(1 + draw.random().nextInt(3));
    }
    if (has(Trouble.SLOW_TURN)) {
      maker.slowTurn();
    }
    if (has(Trouble.DROPOUTS)) {
      maker.dropouts(1 + draw.random().nextInt(4));
    }
    if (has(Trouble.LID_OPENED)) {
      maker.lidOpened();
    }
    if (has(Trouble.REBOOT)) {
      maker.rebooted();
    }
    if (has(Trouble.SUN, around)) {
      maker.sunFrom(around.between(0, durationS), around.between(0.3, 1.5));
    }
    return maker.build();
  }

  private LineStream stream(SimulateOptions.Lines lines) {
    boolean wraps = has(Trouble.COUNTER_WRAP);
    long bootMs = wraps ? (1L << 32) - draw.random().nextInt(1, 3_000_000) : 3000;
    double rateHz = strange == null ? lines.rateHz() : strange.rateHz(lines.rateHz());
    return new LineStream(
        lines.form(),
        lines.stamp(),
        rateHz,
        draw.between(0.002, 0.02),
        draw.between(0, 40),
        bootMs,
        dirt());
  }

  private LineStream.Dirt dirt() {
    if (mix == Mix.CLEAN) {
      return LineStream.Dirt.NONE;
    }
    scenarios.add("chatter");
    if (mix != Mix.NASTY) {
      return new LineStream.Dirt(true, 6, 0, 0);
    }
    scenarios.add("dirty");
    return new LineStream.Dirt(true, 60, 30, 20);
  }
}
