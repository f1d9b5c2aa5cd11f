package soakbench.demo.simulation;

/** What a run may have; each is drawn apart from all others. */
public enum Trouble {
  /** The room's heating switches on and off, and did before the run began. */
  HEATING_CYCLE("heating_cycles", 0, 1 / 3.0, 0.6),
  /** The room warms or cools by a degree or two in three hours. */
  ROOM_DRIFT("room_drifts", 0, 0.3, 0.3),
  /** The sun shines on the rack for twenty minutes. */
  SUN("sun", 0, 0.1, 0.2),
  /** A thermometer with steps of half a degree. */
  COARSE_THERMOMETER("coarse_temp", 0, 0.05, 0.2),
  /** A thermometer with steps of a sixteenth of a degree, of those that are not coarse. */
  MIDDLING_THERMOMETER("middling_temp", 0, 0.25, 0.25),
  /** The bias settles after power-on. */
  SETTLING("settling", 0, 0, 0.3),
  /** Linear coefficients twice as large. */
  STEEP("steep", 0, 0, 0.2),
  /** A steepest axis outside the usual lot's; only where it is asked for. */
  STEEP_AXIS("steep_axis", 0, 0, 0),
  PICKED_UP("picked_up", 0, 0.5, 0.5),
  SLOW_TURN("slow_turn", 0, 0.3, 0.3),
  /** Lines get lost for a while. */
  DROPOUTS("dropouts", 0, 0.4, 0.4),
  LID_OPENED("lid_open", 0, 0, 0.6),
  /** Off and on. */
  REBOOT("reboot", 0, 0, 0.3),
  /** The counter {@code t_ms} passes its greatest value. */
  COUNTER_WRAP("t_ms_wrap", 0, 0, 0.15);

  private final String word;
  private final double clean;
  private final double usual;
  private final double nasty;

  Trouble(String word, double clean, double usual, double nasty) {
    this.word = word;
    this.clean = clean;
    this.usual = usual;
    this.nasty = nasty;
  }

  /** How likely a tracker of a mix has it, 0 to 1. */
  public double chance(Mix mix) {
    return switch (mix) {
      case CLEAN -> clean;
      case USUAL, STRANGE -> usual;
      case NASTY -> nasty;
    };
  }

  /** The word that files use among the scenarios. */
  public String word() {
    return word;
  }
}
