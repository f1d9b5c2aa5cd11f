package soakbench.demo.unit;

import java.util.List;

/**
 * What happens to a tracker in a run, each list in order of time.
 *
 * @param motions when it is moved
 * @param lids when its cover is off
 * @param offs when it has no power; it boots at the end of each
 * @param gaps when its lines get lost although it runs
 * @param handlings what those that were done on purpose belong to
 */
public record Events(
    List<Motion> motions,
    List<Lid> lids,
    List<Span> offs,
    List<Span> gaps,
    List<Handling> handlings) {

  /** Nothing happens. */
  public static final Events NONE = new Events(List.of(), List.of(), List.of(), List.of());

  public Events {
    motions = List.copyOf(motions);
    lids = List.copyOf(lids);
    offs = List.copyOf(offs);
    gaps = List.copyOf(gaps);
    handlings = List.copyOf(handlings);
  }

  /** What nobody needs to know the purpose of. */
  public Events(List<Motion> motions, List<Lid> lids, List<Span> offs, List<Span> gaps) {
    this(motions, lids, offs, gaps, List.of());
  }

  public boolean off(double timeS) {
    return holds(offs, timeS);
  }

  public boolean gap(double timeS) {
    return holds(gaps, timeS);
  }

  /** How much cooler the surroundings are for open covers, degC. */
  public double lidDropC(double timeS) {
    double drop = 0;
    for (Lid lid : lids) {
      if (timeS >= lid.fromS() && timeS < lid.toS()) {
        drop += lid.dropC();
      }
    }
    return drop;
  }

  /** How much cooler than its body open covers keep the chip, degC. */
  public double lidChipDropC(double timeS) {
    return lids.stream()
        .filter(lid -> timeS >= lid.fromS() && timeS < lid.toS())
        .mapToDouble(Lid::chipDropC)
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
