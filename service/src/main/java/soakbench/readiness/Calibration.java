package soakbench.readiness;

import java.util.Locale;
import java.util.Objects;
import soakbench.drift.calibration.HandlingSeen;
import soakbench.model.State;
import soakbench.model.Tracker.Rates;

/**
 * A calibration mark with its check. One is one per (tracker, at). Its parts are not grouped: it is
 * stored by their names, and what older releases stored must still be read.
 *
 * @param tracker the tracker's id
 * @param atUs when it was lifted, or when somebody said so; whole seconds, microseconds since 1970
 * @param soak the soak in which it was lifted
 * @param origin who made the mark
 * @param status whether it counts
 * @param stateBefore the verdict before lifting; null where none had been given
 * @param handling what was seen of it; null while it has not lain still again for half a minute
 * @param check what the still minute after it shows; null while there is none
 * @param checkReason why there is no check; null where there is one
 */
public record Calibration(
    String tracker,
    long atUs,
    String soak,
    Origin origin,
    Status status,
    State stateBefore,
    HandlingSeen handling,
    Check check,
    String checkReason) {
  /** How a reason begins where the check may still come. */
  public static final String NOT_YET = "not known yet: ";

  /** Whether its check may still come. */
  public boolean awaitsCheck() {
    return status == Status.MARK
        && check == null
        && checkReason != null
        && checkReason.startsWith(NOT_YET);
  }

  public Calibration {
    Objects.requireNonNull(tracker, "tracker");
    Objects.requireNonNull(soak, "soak");
    Objects.requireNonNull(origin, "origin");
    Objects.requireNonNull(status, "status");
  }

  /** Who made a mark. */
  public enum Origin {
    /** It showed itself. */
    SEEN,
    /** Somebody said so. */
    TOLD;

    /** The word that people and programs see. */
    public String word() {
      return name().toLowerCase(Locale.ROOT);
    }
  }

  /** Whether a mark counts. */
  public enum Status {
    /** It may have been one; somebody has to say. */
    QUESTION,
    MARK,
    /** Somebody said that it was none. */
    UNDONE;

    /** The word that people and programs see. */
    public String word() {
      return name().toLowerCase(Locale.ROOT);
    }
  }

  /**
   * A check and what it was made of.
   *
   * @param fromUs begin of the still minute, microseconds since 1970
   * @param toUs its end
   * @param rates what was said of the firmware
   * @param useTemperatureC temperature in use, degC
   * @param result what it shows
   */
  public record Check(
      long fromUs, long toUs, Rates rates, double useTemperatureC, CalibrationCheck result) {
    public Check {
      Objects.requireNonNull(rates, "rates");
      Objects.requireNonNull(result, "result");
    }
  }
}
