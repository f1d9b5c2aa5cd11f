package soakbench.demo.unit;

import java.util.List;
import java.util.Locale;

/**
 * What somebody did to a tracker on purpose or by accident, as the truth file gives it.
 *
 * @param kind what it was
 * @param fromS lifted, seconds since the run's start
 * @param toS back at rest, seconds since the run's start
 * @param rests when it lay still meanwhile, in order; of a calibration its poses
 * @param rebooted whether it was off and on meanwhile
 */
public record Handling(Kind kind, double fromS, double toS, List<Span> rests, boolean rebooted) {

  /** What people do. */
  public enum Kind {
    SIX_POSES(true),
    FOUR_POSES(true),
    /** Long and uneven, faces done again, or one missed. */
    CLUMSY(true),
    PICKED_UP(false),
    DROPPED(false),
    BATTERY_CHANGED(false),
    TURNED_OVER(false),
    MOVED_ELSEWHERE(false);

    private final boolean calibration;

    Kind(boolean calibration) {
      this.calibration = calibration;
    }

    /** Whether it is a calibration. */
    public boolean calibration() {
      return calibration;
    }

    /** The word that files use. */
    public String word() {
      return name().toLowerCase(Locale.ROOT);
    }
  }

  public Handling {
    rests = List.copyOf(rests);
  }
}
