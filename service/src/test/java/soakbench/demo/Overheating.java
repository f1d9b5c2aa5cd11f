package soakbench.demo;

import java.util.List;
import java.util.SplittableRandom;
import soakbench.demo.lines.LineStream;
import soakbench.demo.simulation.EventMaker;
import soakbench.demo.simulation.Recipe;
import soakbench.demo.unit.Draw;
import soakbench.demo.unit.Events;
import soakbench.demo.unit.Heating;
import soakbench.demo.unit.Lid;
import soakbench.demo.unit.SimulatedUnit;
import soakbench.demo.unit.UnitMaker;

/** Draws trackers that end too hot, as batteries on a bench do. */
enum Overheating {
  /** On the charger under a cover: the charge itself heats. */
  CHARGER {
    @Override
    Recipe drawn(Draw draw, long seed) {
      double self = draw.between(4, 14);
      return recipe(
          draw, seed, draw.between(46, 70), self, draw.between(60, 180), draw.between(400, 1500));
    }
  },
  /** A cover so thick that it warms for hours. */
  THICK_COVER {
    @Override
    Recipe drawn(Draw draw, long seed) {
      return recipe(
          draw,
          seed,
          draw.between(46, 70),
          draw.between(0.8, 3),
          draw.between(15, 45),
          draw.between(1500, 3500));
    }
  },
  /** A lamp or the sun falls on it after some minutes. */
  LAMP {
    @Override
    Recipe drawn(Draw draw, long seed) {
      double rest = draw.between(26, 36);
      double lamp = draw.between(46, 65) - rest;
      Recipe r =
          recipe(
              draw,
              seed,
              rest,
              draw.between(0.8, 3),
              draw.between(15, 45),
              draw.between(500, 1300));
      double from = draw.between(300, 2400);
      Lid sun = new Lid(from, r.durationS(), -lamp);
      Events e = r.events();
      return with(r, new Events(e.motions(), List.of(sun), e.offs(), e.gaps()));
    }
  },
  /** A rack that is simply too warm. */
  WARM_RACK {
    @Override
    Recipe drawn(Draw draw, long seed) {
      return recipe(
          draw,
          seed,
          draw.between(46, 60),
          draw.between(0.8, 3),
          draw.between(15, 45),
          draw.between(500, 1300));
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
    SimulatedUnit unit = UnitMaker.unit("T", "lot-0", 1, false, draw);
    if (draw.chance(0.15)) {
      unit = unit.withThermometer(COARSE_C);
    }
    EventMaker maker = new EventMaker(3600, draw);
    if (draw.chance(0.3)) {
      maker.dropouts(1 + draw.random().nextInt(4));
    }
    Heating heating = Heating.steady(draw.between(15, 30), plateauC, selfHeatC, chipS, bodyS);
    LineStream stream =
        new LineStream(
            LineStream.Form.JSON_LINES,
            LineStream.Stamp.TIME,
            10,
            0,
            0,
            3000,
            LineStream.Dirt.NONE);
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
