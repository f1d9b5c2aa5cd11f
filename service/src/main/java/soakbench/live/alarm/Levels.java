package soakbench.live.alarm;

import soakbench.model.AlarmCause.Severity;

/**
 * Two levels of something that gets worse as it rises, with hysteresis: one is left only some way
 * below where it was entered, so that a value that wavers about it makes one alarm. Not
 * thread-safe.
 */
public final class Levels {
  private final double warning;
  private final double severe;
  private final double below;
  private double entered;

  /**
   * @param warning where the first is entered
   * @param severe where the second is
   * @param below so far below it each is left
   */
  public Levels(double warning, double severe, double below) {
    this.warning = warning;
    this.severe = severe;
    this.below = below;
  }

  /** Takes the value of now; returns the limit of the level that holds, 0 for none. */
  public double take(double value) {
    double level = value >= severe ? severe : value >= warning ? warning : 0;
    entered = level >= entered || value < entered - below ? level : entered;
    return entered;
  }

  /** Nothing is known of it any more. */
  public void forget() {
    entered = 0;
  }

  /** How bad a level is that holds. */
  public Severity severity() {
    return entered >= severe ? Severity.SEVERE : Severity.WARNING;
  }
}
