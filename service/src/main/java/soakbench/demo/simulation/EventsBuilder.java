package soakbench.demo.simulation;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import soakbench.demo.unit.Draw;
import soakbench.demo.unit.Events;
import soakbench.demo.unit.Motion;
import soakbench.demo.unit.Span;
import soakbench.demo.unit.Uncovering;

/** Builds the events of a run: random ones, and scripted ones. */
public final class EventsBuilder {
  private static final double SUN_S = 1200;

  private final double durationS;
  private final Draw draw;
  private final List<Motion> motions = new ArrayList<>();
  private final List<Uncovering> uncoverings = new ArrayList<>();
  private final List<Span> powerOffs = new ArrayList<>();
  private final List<Span> gaps = new ArrayList<>();

  public EventsBuilder(double durationS, Draw draw) {
    this.durationS = durationS;
    this.draw = draw;
  }

  public Events build() {
    motions.sort(Comparator.comparingDouble(Motion::fromS));
    uncoverings.sort(Comparator.comparingDouble(Uncovering::fromS));
    powerOffs.sort(Comparator.comparingDouble(Span::fromS));
    gaps.sort(Comparator.comparingDouble(Span::fromS));
    return new Events(motions, uncoverings, powerOffs, gaps);
  }

  EventsBuilder pickedUp(int times) {
    for (int i = 0; i < times; i++) {
      double length = draw.uniform(4, 16);
      double angle = draw.chance(0.5) ? 0 : draw.uniform(40, 180);
      pickedUpAt(draw.uniform(200, durationS), length, angle);
    }
    return this;
  }

  /** Picked up at a given moment, if no other motion is near. */
  public EventsBuilder pickedUpAt(double fromS, double lengthS, double angleDeg) {
    return add(
        new Motion(
            fromS,
            fromS + lengthS,
            Motion.Kind.BURST,
            draw.direction(),
            angleDeg,
            draw.uniform(0.02, 0.15)));
  }

  /** Held for some seconds by a hand that is much warmer than what it holds. */
  EventsBuilder warmlyHandledAt(double fromS, Draw hand) {
    return add(
        new Motion(
            fromS,
            fromS + hand.uniform(5, 12),
            Motion.Kind.BURST,
            hand.direction(),
            hand.chance(0.5) ? 0 : 90,
            hand.uniform(0.15, 0.4)));
  }

  EventsBuilder slowTurn() {
    double from = draw.uniform(300, durationS);
    double angle = draw.uniform(25, 90) * (draw.chance(0.5) ? 1 : -1);
    return add(
        new Motion(
            from,
            from + draw.uniform(30, 60),
            Motion.Kind.TURN,
            draw.direction(),
            angle,
            draw.uniform(0, 0.05)));
  }

  /** Twenty minutes of sun, or what the run leaves of them. */
  EventsBuilder sunFrom(double fromS, double riseC) {
    uncoverings.add(new Uncovering(fromS, Math.min(durationS, fromS + SUN_S), -riseC));
    return this;
  }

  EventsBuilder uncovered() {
    double from = draw.wholeSecond(300, Math.max(301, durationS - 300));
    Uncovering uncovering =
        new Uncovering(from, from + draw.wholeSecond(90, 300), draw.uniform(2, 6));
    if (from < durationS) {
      uncoverings.add(uncovering);
    }
    return this;
  }

  public EventsBuilder uncoveredAt(double fromS, double lengthS, double dropC) {
    uncoverings.add(new Uncovering(fromS, fromS + lengthS, dropC));
    return this;
  }

  public EventsBuilder uncoveredFrom(double fromS, double dropC) {
    uncoverings.add(new Uncovering(fromS, durationS, dropC));
    return this;
  }

  public EventsBuilder dropouts(int times) {
    for (int i = 0; i < times; i++) {
      double from = draw.uniform(60, durationS);
      double to = from + draw.logUniform(1.5, 45);
      if (from < durationS) {
        gaps.add(new Span(from, Math.min(durationS, to)));
      }
    }
    return this;
  }

  EventsBuilder rebooted() {
    double from = draw.uniform(120, durationS);
    double to = from + draw.uniform(2, 8);
    if (to < durationS) {
      powerOffs.add(new Span(from, to));
    }
    return this;
  }

  /** A calibration: off and on, laid on each of six faces for a while, back to its place. */
  public EventsBuilder calibratedAt(double fromS) {
    double[] x = {1, 0, 0};
    double[] y = {0, 1, 0};
    double[] z = {0, 0, 1};
    powerOffs.add(new Span(fromS + 2, fromS + 5));
    add(new Motion(fromS, fromS + 6, Motion.Kind.BURST, x, 0, -0.1));
    double at = fromS + 12;
    double[][] axes = {x, x, x, z, z, y};
    double[] angles = {90, 90, 90, 90, 180, 90};
    for (int face = 0; face < axes.length; face++) {
      double length = draw.uniform(2, 3);
      add(new Motion(at, at + length, Motion.Kind.BURST, axes[face], angles[face], -0.04));
      at += length + draw.uniform(5, 8);
    }
    return add(new Motion(at, at + 4, Motion.Kind.BURST, z, 0, -0.05));
  }

  private EventsBuilder add(Motion motion) {
    boolean free =
        motions.stream()
            .allMatch(m -> m.toS() + 1 < motion.fromS() || motion.toS() + 1 < m.fromS());
    if (free && motion.toS() < durationS) {
      motions.add(motion);
    }
    return this;
  }
}
