package soakbench.demo;

import java.util.List;
import java.util.SplittableRandom;
import soakbench.demo.lines.LineStream;
import soakbench.demo.simulation.EventsBuilder;
import soakbench.demo.simulation.Recipe;
import soakbench.demo.unit.Draw;
import soakbench.demo.unit.Events;
import soakbench.demo.unit.Heating;
import soakbench.demo.unit.SimulatedUnit;
import soakbench.demo.unit.Uncovering;
import soakbench.demo.unit.UnitGenerator;

/** Draws trackers that end too hot, as batteries on a bench do. */
enum Overheating {
  /** On the charger under a cover: the charge itself heats. */
  CHARGER {
    @Override
    Recipe drawn(Draw draw, long seed) {
      double self = draw.uniform(4, 14);
      return recipe(
          draw, seed, draw.uniform(46, 70), self, draw.uniform(60, 180), draw.uniform(400, 1500));
    }
  },
  /** A cover so thick that it warms for hours. */
  THICK_COVER {
    @Override
    Recipe drawn(Draw draw, long seed) {
      return recipe(
          draw,
          seed,
          draw.uniform(46, 70),
          draw.uniform(0.8, 3),
          draw.uniform(15, 45),
          draw.uniform(1500, 3500));
    }
  },
  /** A lamp or the sun falls on it after some minutes. */
  LAMP {
    @Override
    Recipe drawn(Draw draw, long seed) {
      double rest = draw.uniform(26, 36);
      double lamp = draw.uniform(46, 65) - rest;
      Recipe r =
          recipe(
              draw,
              seed,
              rest,
              draw.uniform(0.8, 3),
              draw.uniform(15, 45),
              draw.uniform(500, 1300));
      double from = draw.uniform(300, 2400);
      Uncovering sun = new Uncovering(from, r.durationS(), -lamp);
      Events e = r.events();
      return with(r, new Events(e.motions(), List.of(sun), e.powerOffs(), e.gaps()));
    }
  },
  /** A rack that is simply too warm. */
  WARM_RACK {
    @Override
    Recipe drawn(Draw draw, long seed) {
      return recipe(
          draw,
          seed,
          draw.uniform(46, 60),
          draw.uniform(0.8, 3),
          draw.uniform(15, 45),
          draw.uniform(500, 1300));
    }
  };

  private static final double COARSE_C = 0.5;
  private static final double DURATION_S = 5 * 3600;

  abstract Recipe drawn(Draw draw, long seed);

  static Recipe of(Overheating kind, long seed) {
    return kind.drawn(new Draw(new SplittableRandom(seed)), seed);
  }

  private static Recipe recipe(
      Draw draw, long seed, double plateauC, double selfHeatC, double chipS, double bodyS) {
    SimulatedUnit unit = UnitGenerator.unit("T", "lot-0", 1, false, draw);
    if (draw.chance(0.15)) {
      unit = unit.withThermometer(COARSE_C);
    }
    EventsBuilder maker = new EventsBuilder(3600, draw);
    if (draw.chance(0.3)) {
      maker.dropouts(1 + draw.random().nextInt(4));
    }
    Heating heating = Heating.steady(draw.uniform(15, 30), plateauC, selfHeatC, chipS, bodyS);
    LineStream stream =
        new LineStream(
            LineStream.Form.JSON_LINES,
            LineStream.Stamp.TIME,
            10,
            0,
            0,
            3000,
            LineStream.Faults.NONE);
    return new Recipe(
        unit,
        heating,
        maker.build(),
        stream,
        new Recipe.Run(0, DURATION_S, seed),
        new Recipe.Origin("hot", List.of()));
  }

  private static Recipe with(Recipe r, Events events) {
    return r.with(events);
  }
}
