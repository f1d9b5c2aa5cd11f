package soakbench.demo.simulation;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import soakbench.demo.unit.Draw;
import soakbench.demo.unit.Events;
import soakbench.demo.unit.Lid;
import soakbench.demo.unit.Motion;
import soakbench.demo.unit.Span;

/** Draws what happens to a tracker in a run, and builds what people do on purpose. */
public final class EventMaker {
  private static final double SUN_S = 1200;

  private final double durationS;
  private final Draw draw;
  private final List<Motion> motions = new ArrayList<>();
  private final List<Lid> lids = new ArrayList<>();
  private final List<Span> offs = new ArrayList<>();
  private final List<Span> gaps = new ArrayList<>();

  public EventMaker(double durationS, Draw draw) {
    this.durationS = durationS;
    this.draw = draw;
  }

  public Events build() {
    motions.sort(Comparator.comparingDouble(Motion::fromS));
    lids.sort(Comparator.comparingDouble(Lid::fromS));
    offs.sort(Comparator.comparingDouble(Span::fromS));
    gaps.sort(Comparator.comparingDouble(Span::fromS));
    return new Events(motions, lids, offs, gaps);
  }

  EventMaker pickedUp(int times) {
    for (int i = 0; i < times; i++) {
      double length = draw.between(4, 16);
      double angle = draw.chance(0.5) ? 0 : draw.between(40, 180);
      pickedUpAt(draw.between(200, durationS), length, angle);
    }
    return this;
  }

  /** Picked up at a given moment, if no other motion is near. */
  public EventMaker pickedUpAt(double fromS, double lengthS, double angleDeg) {
    return motion(
        new Motion(
            fromS,
            fromS + lengthS,
            Motion.Kind.BURST,
            draw.direction(),
            angleDeg,
            draw.between(0.02, 0.15)));
  }

  /** Held for some seconds by a hand that is much warmer than what it holds. */
  EventMaker warmlyHandledAt(double fromS, Draw hand) {
    return motion(
        new Motion(
            fromS,
            fromS + hand.between(5, 12),
            Motion.Kind.BURST,
            hand.direction(),
            hand.chance(0.5) ? 0 : 90,
            hand.between(0.15, 0.4)));
  }

  EventMaker slowTurn() {
    double from = draw.between(300, durationS);
    double angle = draw.between(25, 90) * (draw.chance(0.5) ? 1 : -1);
    return motion(
        new Motion(
            from,
            from + draw.between(30, 60),
            Motion.Kind.TURN,
            draw.direction(),
            angle,
            draw.between(0, 0.05)));
  }

  /** Twenty minutes of sun, or what the run leaves of them. */
  EventMaker sunFrom(double fromS, double riseC) {
    lids.add(new Lid(fromS, Math.min(durationS, fromS + SUN_S), -riseC));
    return this;
  }

  EventMaker lidOpened() {
    double from = draw.second(300, Math.max(301, durationS - 300));
    Lid lid = new Lid(from, from + draw.second(90, 300), draw.between(2, 6));
    if (from < durationS) {
      lids.add(lid);
    }
    return this;
  }

  public EventMaker lidOpenedAt(double fromS, double lengthS, double dropC) {
    lids.add(new Lid(fromS, fromS + lengthS, dropC));
    return this;
  }

  public EventMaker uncoveredFrom(double fromS, double dropC) {
    lids.add(new Lid(fromS, durationS, dropC));
    return this;
  }

  public EventMaker dropouts(int times) {
    for (int i = 0; i < times; i++) {
      double from = draw.between(60, durationS);
      double to = from + draw.spread(1.5, 45);
      if (from < durationS) {
        gaps.add(new Span(from, Math.min(durationS, to)));
      }
    }
    return this;
  }

  EventMaker rebooted() {
    double from = draw.between(120, durationS);
    double to = from + draw.between(2, 8);
    if (to < durationS) {
      offs.add(new Span(from, to));
    }
    return this;
  }

  /** A calibration: off and on, laid on each of six faces for a while, back to its place. */
  public EventMaker calibratedAt(double fromS) {
    double[] x = {1, 0, 0};
    double[] y = {0, 1, 0};
    double[] z = {0, 0, 1};
    offs.add(new Span(fromS + 2, fromS + 5));
    motion(new Motion(fromS, fromS + 6, Motion.Kind.BURST, x, 0, -0.1));
    double at = fromS + 12;
    double[][] axes = {x, x, x, z, z, y};
    double[] angles = {90, 90, 90, 90, 180, 90};
    for (int face = 0; face < axes.length; face++) {
      double length = draw.between(2, 3);
      motion(new Motion(at, at + length, Motion.Kind.BURST, axes[face], angles[face], -0.04));
      at += length + draw.between(5, 8);
    }
    return motion(new Motion(at, at + 4, Motion.Kind.BURST, z, 0, -0.05));
  }

  private EventMaker motion(Motion motion) {
    boolean free =
        motions.stream()
            .allMatch(m -> m.toS() + 1 < motion.fromS() || motion.toS() + 1 < m.fromS());
    if (free && motion.toS() < durationS) {
      motions.add(motion);
    }
    return this;
  }
}
