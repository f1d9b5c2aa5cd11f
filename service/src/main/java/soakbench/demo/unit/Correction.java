package soakbench.demo.unit;

import java.util.Locale;

/**
 * What a tracker's own firmware subtracts from the rates that it prints.
 *
 * @param kind how it does that
 * @param timeConstantS how fast it follows, s; for the two that follow, else 0
 */
public record Correction(Kind kind, double timeConstantS) {

  /** Rates as they are measured. */
  public static final Correction NONE = new Correction(Kind.NONE, 0);

  /** How firmware corrects. */
  public enum Kind {
    /** Not at all. */
    NONE,
    /** What a calibration at {@link Axis#REFERENCE_C} found long ago is subtracted, always. */
    CONSTANT,
    /**
     * The same, until a calibration in the run finds another bias: the mean over its poses is
     * subtracted from its last pose on, and outlasts a reboot.
     */
    STORED,
    /** What the first second after power-on showed is subtracted until the next power-on. */
    AT_BOOT,
    /**
     * A low-pass of the rates follows them while it lies still, and is subtracted; begins at the
     * first reading after power-on.
     */
    FOLLOWS,
    /** The same, beginning at nothing: the rates die away after power-on. */
    FOLLOWS_FROM_NOTHING,
    /** After each motion, and after power-on, the mean of a few still seconds is subtracted. */
    AFTER_MOTION;

    boolean follows() {
      return this == FOLLOWS || this == FOLLOWS_FROM_NOTHING;
    }

    /** The word that files use. */
    public String word() {
      return name().toLowerCase(Locale.ROOT);
    }
  }

  /**
   * @throws IllegalArgumentException if a time constant is missing, or given where there is none
   */
  public Correction {
    boolean follows = kind.follows();
    if (follows && !(timeConstantS >= 1 && timeConstantS <= 3600)) {
      throw new IllegalArgumentException(
          "a time constant of " + timeConstantS + " s is outside 1 to 3600; give it in seconds");
    }
    if (!follows && timeConstantS != 0) {
      throw new IllegalArgumentException(
          "a time constant belongs to what follows the rates, not to " + kind.word());
    }
  }

  /** A correction that follows the rates while it lies still. */
  public static Correction follows(double timeConstantS) {
    return new Correction(Kind.FOLLOWS, timeConstantS);
  }

  /** The time constant of those that follow where none is given, s. */
  public static final int USUAL_S = 60;

  /**
   * A correction of this kind.
   *
   * @param timeConstantS how fast it follows, s; null for {@link #USUAL_S} where it follows at all
   * @throws IllegalArgumentException as the constructor
   */
  public static Correction of(Kind kind, Double timeConstantS) {
    double usualS = kind.follows() ? USUAL_S : 0;
    return new Correction(kind, timeConstantS == null ? usualS : timeConstantS);
  }

  /** A correction without a time constant. */
  public static Correction of(Kind kind) {
    return new Correction(kind, 0);
  }

  /** Whether its rates can't show how the bias drifts. */
  public boolean hidesDrift() {
    return timeConstantS > 0 || kind == Kind.AFTER_MOTION;
  }
}
