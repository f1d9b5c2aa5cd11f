package soakbench.demo.unit;

import java.util.List;

/**
 * What happens to a tracker in a run, each list in order of time.
 *
 * @param motions when it is moved
 * @param uncoverings when its cover is off
 * @param powerOffs when it has no power; it boots at the end of each
 * @param gaps when its lines get lost although it runs
 * @param handlings what those that were done on purpose belong to
 */
public record Events(
    List<Motion> motions,
    List<Uncovering> uncoverings,
    List<Span> powerOffs,
    List<Span> gaps,
    List<Handling> handlings) {

  /** Nothing happens. */
  public static final Events NONE = new Events(List.of(), List.of(), List.of(), List.of());

  public Events {
    motions = List.copyOf(motions);
    uncoverings = List.copyOf(uncoverings);
    powerOffs = List.copyOf(powerOffs);
    gaps = List.copyOf(gaps);
    handlings = List.copyOf(handlings);
  }

  /** What nobody needs to know the purpose of. */
  public Events(
      List<Motion> motions, List<Uncovering> uncoverings, List<Span> powerOffs, List<Span> gaps) {
    this(motions, uncoverings, powerOffs, gaps, List.of());
  }

  public boolean poweredOff(double timeS) {
    return holds(powerOffs, timeS);
  }

  public boolean gap(double timeS) {
    return holds(gaps, timeS);
  }

  /** How much cooler the surroundings are for open covers, degC. */
  public double uncoveredDropC(double timeS) {
    double drop = 0;
    for (Uncovering uncovering : uncoverings) {
      if (timeS >= uncovering.fromS() && timeS < uncovering.toS()) {
        drop += uncovering.dropC();
      }
    }
    return drop;
  }

  /** How much cooler than its body open covers keep the chip, degC. */
  public double uncoveredChipDropC(double timeS) {
    return uncoverings.stream()
        .filter(uncovering -> timeS >= uncovering.fromS() && timeS < uncovering.toS())
        .mapToDouble(Uncovering::chipDropC)
        .sum();
  }

  private static boolean holds(List<Span> spans, double timeS) {
    for (Span span : spans) {
      if (span.holds(timeS)) {
        return true;
      }
    }
    return false;
  }
}
