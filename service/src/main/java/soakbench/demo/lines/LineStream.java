package soakbench.demo.lines;

/**
 * How a tracker prints.
 *
 * @param form the form of its lines
 * @param stamp which times a line carries beside {@code t_ms}
 * @param rateHz lines a second
 * @param jitterS mean delay of a line's arrival, s
 * @param firstS first line, seconds since the run's start
 * @param bootMs {@code t_ms} of the first line
 * @param faults what it prints beside good lines
 */
public record LineStream(
    Form form,
    Stamp stamp,
    double rateHz,
    double jitterS,
    double firstS,
    long bootMs,
    Faults faults) {

  /** The form of a line. */
  public enum Form {
    JSON_LINES,
    CSV
  }

  /** Which times a line carries. */
  public enum Stamp {
    /** {@code time}: the sender knows it. */
    TIME,
    /** {@code arrival}: a recording of a tracker that knows no time. */
    ARRIVAL,
    /** {@code t_ms} alone. */
    BOOT_ONLY
  }

  /**
   * What a tracker prints beside good lines.
   *
   * @param chatterAtBoot whether it chatters at power-on
   * @param chatterPerH lines of chatter an hour
   * @param truncatedPerH truncated lines an hour
   * @param outOfRangePerH lines with a value out of range an hour
   */
  public record Faults(
      boolean chatterAtBoot, double chatterPerH, double truncatedPerH, double outOfRangePerH) {
    public static final Faults NONE = new Faults(false, 0, 0, 0);
  }

  /**
   * @throws IllegalArgumentException if the rate is not within 0.1 to 1000 lines a second
   */
  public LineStream {
    checkRate(rateHz);
  }

  /**
   * @throws IllegalArgumentException if the rate is not within 0.1 to 1000 lines a second
   */
  public static void checkRate(double rateHz) {
    if (!(rateHz >= 0.1 && rateHz <= 1000)) {
      throw new IllegalArgumentException(
          "a rate of " + rateHz + " lines a second is outside 0.1 to 1000");
    }
  }

  /** Clean lines that carry their time. */
  public static LineStream clean(double rateHz) {
    return new LineStream(Form.JSON_LINES, Stamp.TIME, rateHz, 0, 0, 3000, Faults.NONE);
  }
}
