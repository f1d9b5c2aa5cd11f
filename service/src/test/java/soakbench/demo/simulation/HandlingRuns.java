package soakbench.demo.simulation;

import java.util.List;
import java.util.SplittableRandom;
import soakbench.demo.lines.LineStream;
import soakbench.demo.unit.Correction;
import soakbench.demo.unit.Draw;
import soakbench.demo.unit.Events;
import soakbench.demo.unit.Handling;
import soakbench.demo.unit.Heating;
import soakbench.demo.unit.SimulatedUnit;
import soakbench.demo.unit.UnitGenerator;

/** Draws warm-ups in which somebody handles the tracker once, with what is true of it beside it. */
public final class HandlingRuns {
  private static final double AFTER_S = 180;
  private static final double MIDDLE_S = 2700;
  private static final long START_US = 1_767_254_400_000_000L;
  private static final double[] RATES_HZ = {5, 10, 20, 25};

  private HandlingRuns() {}

  /**
   * One run; the same arguments give the same.
   *
   * @param accelerometer whether the tracker prints one
   * @param reboot whether its calibrations begin with off and on
   * @param correction what its firmware takes off
   */
  public static Recipe of(
      Handling.Kind kind, long seed, boolean accelerometer, boolean reboot, Correction correction) {
    Draw draw = new Draw(new SplittableRandom(seed));
    SimulatedUnit unit = UnitGenerator.unit("HAND-1", "lot-1", 1, accelerometer, draw);
    Heating heating =
        Heating.steady(
            draw.uniform(19, 24),
            draw.uniform(29, 33),
            draw.uniform(0.8, 3),
            draw.uniform(15, 45),
            draw.uniform(500, 1300));
    double fromS = draw.uniform(240, 1800);
    Events events = new HandlingBuilder(draw).make(kind, fromS, reboot);
    double endS = events.handlings().get(0).toS() + AFTER_S;
    return new Recipe(
            unit,
            heating,
            events,
            LineStream.clean(draw.oneOf(RATES_HZ)),
            new Recipe.Run(START_US, endS, draw.random().nextLong()),
            new Recipe.Origin("handling", List.of(kind.word())))
        .with(correction);
  }

  /**
   * One warm-up that settles in the band, is calibrated by off and on and six poses, and settles
   * again; the same seed gives the same.
   */
  public static Recipe calibratedInTheMiddle(long seed, Correction correction) {
    Draw draw = new Draw(new SplittableRandom(seed));
    SimulatedUnit unit = UnitGenerator.unit("HAND-1", "lot-1", 1, true, draw);
    Heating heating =
        Heating.steady(draw.uniform(20, 23), draw.uniform(30, 32), 1.5, 25, draw.uniform(400, 600));
    Events events = new HandlingBuilder(draw).make(Handling.Kind.SIX_POSES, MIDDLE_S, true);
    return new Recipe(
            unit,
            heating,
            events,
            LineStream.clean(10),
            new Recipe.Run(START_US, 2 * MIDDLE_S, draw.random().nextLong()),
            new Recipe.Origin("handling", List.of("calibrated in the middle")))
        .with(correction);
  }
}
