package soakbench.demo.simulation;

import java.util.ArrayList;
import java.util.List;
import soakbench.demo.unit.Draw;
import soakbench.demo.unit.Events;
import soakbench.demo.unit.Handling;
import soakbench.demo.unit.Motion;
import soakbench.demo.unit.Span;
import soakbench.demo.unit.Uncovering;

/** Builds the motions, power cuts and open covers of one handling. */
final class HandlingBuilder {
  private static final double[] X = {1, 0, 0};
  private static final double[] Y = {0, 1, 0};
  private static final double[] Z = {0, 0, 1};

  /** Turns that lay a box on all its faces, one after the other: axis by axis, deg. */
  private static final Turn[] SIX = {
    new Turn(X, 90), new Turn(X, 90), new Turn(X, 90),
    new Turn(Z, 90), new Turn(Z, 180), new Turn(Y, 90)
  };

  private static final Turn[] FOUR = {
    new Turn(X, 90), new Turn(X, 90), new Turn(X, 90), new Turn(X, 90)
  };

  private record Turn(double[] axis, double angleDeg) {}

  private final Draw draw;
  private final List<Motion> motions = new ArrayList<>();
  private final List<Span> powerOffs = new ArrayList<>();
  private final List<Span> rests = new ArrayList<>();
  private double fromS;
  private double atS;

  HandlingBuilder(Draw draw) {
    this.draw = draw;
  }

  /**
   * One handling and nothing else.
   *
   * @param reboot whether a calibration begins by switching off and on; other kinds decide for
   *     themselves
   */
  Events make(Handling.Kind kind, double startS, boolean reboot) {
    fromS = startS;
    atS = startS;
    switch (kind) {
      case SIX_POSES -> poses(SIX, reboot, false);
      case FOUR_POSES -> poses(FOUR, reboot, false);
      case CLUMSY -> poses(SIX, reboot, true);
      case PICKED_UP -> burst(draw.uniform(3, 20), draw.direction(), draw.uniform(0, 30));
      case DROPPED -> dropped();
      case BATTERY_CHANGED -> batteryChanged();
      case TURNED_OVER -> turnedOver();
      case MOVED_ELSEWHERE -> burst(draw.uniform(10, 40), draw.direction(), draw.uniform(5, 180));
    }
    Handling done = new Handling(kind, fromS, atS, rests, !powerOffs.isEmpty());
    Uncovering open = new Uncovering(fromS, atS, draw.uniform(4, 9), draw.uniform(0, 2));
    List<Uncovering> uncoverings = kind == Handling.Kind.PICKED_UP ? List.of() : List.of(open);
    return new Events(motions, uncoverings, powerOffs, List.of(), List.of(done));
  }

  private void poses(Turn[] turns, boolean reboot, boolean clumsy) {
    burst(draw.uniform(4, clumsy ? 25 : 8), X, 0);
    if (reboot) {
      off(draw.uniform(2, clumsy ? 60 : 8));
    }
    burst(draw.uniform(2, 4), Y, 0);
    int missed = clumsy && draw.chance(0.5) ? draw.random().nextInt(turns.length) : -1;
    for (int i = 0; i < turns.length; i++) {
      burst(
          clumsy ? draw.logUniform(1.5, 12) : draw.uniform(2, 3), turns[i].axis, turns[i].angleDeg);
      if (i != missed) {
        rest(clumsy ? draw.logUniform(2.0, 15) : draw.uniform(3, 8));
      }
      if (clumsy && draw.chance(0.2)) {
        burst(draw.uniform(1.5, 4), turns[i].axis, 0);
        rest(draw.uniform(2, 6));
      }
    }
    burst(draw.uniform(3, 8), Z, draw.uniform(-4, 4));
  }

  private void dropped() {
    burst(draw.uniform(0.6, 1.5), draw.direction(), draw.uniform(60, 180));
    rest(draw.uniform(2, 20));
    burst(draw.uniform(3, 8), draw.direction(), draw.uniform(60, 180));
  }

  private void batteryChanged() {
    burst(draw.uniform(3, 8), X, 180);
    rest(draw.uniform(2, 10));
    off(draw.uniform(15, 150));
    rest(draw.uniform(1, 8));
    burst(draw.uniform(3, 8), X, 180);
  }

  private void turnedOver() {
    int times = 2 + draw.random().nextInt(2);
    for (int i = 0; i < times; i++) {
      burst(draw.uniform(1.5, 4), draw.chance(0.5) ? X : Y, draw.chance(0.5) ? 90 : 180);
      rest(draw.uniform(2, 12));
    }
    burst(draw.uniform(2, 5), Z, 0);
  }

  private void burst(double lengthS, double[] axis, double angleDeg) {
    motions.add(
        new Motion(atS, atS + lengthS, Motion.Kind.BURST, axis, angleDeg, draw.uniform(-.05, 0)));
    atS += lengthS;
  }

  private void rest(double lengthS) {
    rests.add(new Span(atS, atS + lengthS));
    atS += lengthS;
  }

  private void off(double lengthS) {
    powerOffs.add(new Span(atS, atS + lengthS));
    atS += lengthS;
  }
}
