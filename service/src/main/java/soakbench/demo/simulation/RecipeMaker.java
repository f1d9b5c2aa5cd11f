package soakbench.demo.simulation;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import soakbench.demo.lines.LineStream;
import soakbench.demo.unit.Draw;
import soakbench.demo.unit.Events;
import soakbench.demo.unit.Heating;
import soakbench.demo.unit.SimulatedUnit;
import soakbench.demo.unit.UnitMaker;

/**
 * Draws whole runs of random trackers. The same seed gives much the same tracker in each mix, so
 * that what a mix does can be told from what a tracker is.
 */
public final class RecipeMaker {
  private static final double COARSE_C = 0.5;
  private static final double MIDDLING_C = 0.0625;

  private RecipeMaker() {}

  /** Draws a run. The same options give the same recipe. */
  public static Recipe recipe(SimulateOptions options) {
    Draw draw = new Draw(new SplittableRandom(options.run().seed()));
    List<String> scenarios = new ArrayList<>();
    boolean accelerometer =
        options.subject().accelerometer() == null
            ? draw.chance(0.5)
            : options.subject().accelerometer();
    SimulatedUnit unit =
        UnitMaker.unit(
            options.subject().id(), "lot-" + draw.random().nextInt(3), 1, accelerometer, draw);
    Heating heating = heating(draw);
    if (options.mix() == Mix.NASTY && draw.chance(0.5)) {
      heating = heating.cycling(draw.between(0.2, 0.8), draw.between(700, 1500));
      scenarios.add("heating_cycles");
    }
    SimulatedUnit drawn = character(unit, options.mix(), scenarios, draw);
    double durationS = options.run().durationS();
    Events events = events(options.mix(), durationS, scenarios, draw);
    LineStream stream = stream(options, scenarios, draw);
    return new Recipe(
        drawn,
        options.subject().correction(),
        heating,
        events,
        stream,
        new Recipe.Run(options.startUs(), durationS, draw.random().nextLong()),
        new Recipe.Origin(options.mix().word(), scenarios));
  }

  /** A run of a known tracker, from cold. */
  public static Recipe recipe(
      SimulatedUnit unit, Mix mix, long startUs, double durationS, double rateHz, long seed) {
    Draw draw = new Draw(new SplittableRandom(seed));
    List<String> scenarios = new ArrayList<>();
    LineStream.Dirt dirt = dirt(mix, scenarios);
    LineStream stream =
        new LineStream(
            LineStream.Form.JSON_LINES,
            LineStream.Stamp.TIME,
            rateHz,
            0,
            draw.between(0, 40),
            3000,
            dirt);
    Heating heating = heating(draw);
    Events events = events(mix, durationS, scenarios, draw);
    return new Recipe(
        unit,
        heating,
        events,
        stream,
        new Recipe.Run(startUs, durationS, draw.random().nextLong()),
        new Recipe.Origin(mix.word(), scenarios));
  }

  private static Heating heating(Draw draw) {
    double which = draw.between(0, 1);
    double plateau;
    if (which < 0.14) {
      plateau = draw.between(25, 27.3);
    } else if (which < 0.24) {
      plateau = draw.between(34.6, 37);
    } else {
      plateau = draw.between(29, 33.2);
    }
    return Heating.steady(
        draw.between(19, 24),
        plateau,
        draw.between(0.8, 3),
        draw.between(15, 45),
        draw.between(500, 1300));
  }

  private static SimulatedUnit character(
      SimulatedUnit unit, Mix mix, List<String> scenarios, Draw draw) {
    SimulatedUnit out = unit;
    double coarse = mix == Mix.NASTY ? 0.2 : mix == Mix.USUAL ? 0.05 : 0;
    if (draw.chance(coarse)) {
      out = out.withThermometer(COARSE_C);
      scenarios.add("coarse_temp");
    } else if (mix != Mix.CLEAN && draw.chance(0.25)) {
      out = out.withThermometer(MIDDLING_C);
    }
    if (mix == Mix.NASTY && draw.chance(0.3)) {
      out = UnitMaker.settling(out, draw);
      scenarios.add("settling");
    }
    if (mix == Mix.NASTY && draw.chance(0.2)) {
      out = UnitMaker.steeper(out, 2);
      scenarios.add("steep");
    }
    return out;
  }

  private static Events events(Mix mix, double durationS, List<String> scenarios, Draw draw) {
    EventMaker maker = new EventMaker(durationS, draw);
    if (mix != Mix.CLEAN) {
      if (draw.chance(0.5)) {
        maker.pickedUp(1 + draw.random().nextInt(3));
        scenarios.add("picked_up");
      }
      if (draw.chance(0.3)) {
        maker.slowTurn();
        scenarios.add("slow_turn");
      }
      if (draw.chance(0.4)) {
        maker.dropouts(1 + draw.random().nextInt(4));
        scenarios.add("dropouts");
      }
    }
    if (mix == Mix.NASTY) {
      if (draw.chance(0.6)) {
        maker.lidOpened();
        scenarios.add("lid_open");
      }
      if (draw.chance(0.3)) {
        maker.rebooted();
        scenarios.add("reboot");
      }
    }
    return maker.build();
  }

  private static LineStream stream(SimulateOptions options, List<String> scenarios, Draw draw) {
    boolean wraps = options.mix() == Mix.NASTY && draw.chance(0.15);
    if (wraps) {
      scenarios.add("t_ms_wrap");
    }
    long bootMs = wraps ? (1L << 32) - draw.random().nextInt(1, 3_000_000) : 3000;
    return new LineStream(
        options.lines().form(),
        options.lines().stamp(),
        options.lines().rateHz(),
        draw.between(0.002, 0.02),
        draw.between(0, 40),
        bootMs,
        dirt(options.mix(), scenarios));
  }

  private static LineStream.Dirt dirt(Mix mix, List<String> scenarios) {
    if (mix == Mix.CLEAN) {
      return LineStream.Dirt.NONE;
    }
    scenarios.add("chatter");
    if (mix == Mix.USUAL) {
      return new LineStream.Dirt(true, 6, 0, 0);
    }
    scenarios.add("dirty");
    return new LineStream.Dirt(true, 60, 30, 20);
  }
}
