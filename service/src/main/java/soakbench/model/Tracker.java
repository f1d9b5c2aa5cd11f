package soakbench.model;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.regex.Pattern;

/**
 * One unit under test, as the roster knows it. Flat, as its table, its CSV and its JSON are: people
 * fill it in column by column.
 *
 * @param id what its firmware says or what is printed on it; 1 to 64 of {@code A-Z a-z 0-9 . _ :
 *     -}, but not {@code .} or {@code ..}, which no address can name
 * @param name what people call it; never blank, the id when nobody named it
 * @param lot the batch its IMU came from, or empty
 * @param imu marking of the IMU, or empty
 * @param board marking of the board, or empty
 * @param rack the bench it lies on, or empty
 * @param slot its position there, or empty
 * @param power what feeds it while it soaks
 * @param rates what the firmware takes off the rates that it sends
 * @param temperatureOffsetC added to each temperature it sends, degC
 * @param note free text, or empty
 */
public record Tracker(
    String id,
    String name,
    String lot,
    String imu,
    String board,
    String rack,
    String slot,
    Power power,
    Rates rates,
    double temperatureOffsetC,
    String note) {

  /** What an id is, to follow "an id is" or "must be". */
  public static final String ID_RULE =
      "1 to 64 letters, digits or any of . _ : - (but not \".\" or \"..\")";

  private static final Pattern ID = Pattern.compile("(?!\\.{1,2}$)[A-Za-z0-9._:-]{1,64}");

  /** What feeds a tracker during its soak. */
  public enum Power {
    BATTERY,
    USB,
    UNKNOWN
  }

  /** What the firmware takes off the rates that it sends. */
  public enum Rates {
    /** Nothing: as measured. */
    RAW,
    /** A stored offset, until a calibration stores another: they drift as measured ones do. */
    CONSTANT,
    /** The drift itself: they are drawn back to zero while still, or after each motion. */
    FOLLOWS,
    /** Nobody has said. */
    UNKNOWN;

    /** What earlier releases had for both that take something off: which of them is not known. */
    private static final String OF_BEFORE = "corrected";

    /** The words of all, as people and programs see them. */
    public static List<String> words() {
      return Arrays.stream(values()).map(Rates::word).toList();
    }

    /** The one that a word stands for, also a word of earlier releases; empty where none does. */
    public static Optional<Rates> of(String word) {
      return word.equals(OF_BEFORE)
          ? Optional.of(UNKNOWN)
          : Arrays.stream(values()).filter(rates -> rates.word().equals(word)).findFirst();
    }

    /** The word that people and programs see. */
    public String word() {
      return name().toLowerCase(Locale.ROOT);
    }
  }

  /**
   * @throws IllegalArgumentException if the id does not match {@link #isId}
   */
  public Tracker {
    if (!isId(id)) {
      throw new IllegalArgumentException("tracker id \"" + id + "\" must be " + ID_RULE);
    }
    name = name == null || name.isBlank() ? id : name.strip();
    lot = orEmpty(lot);
    imu = orEmpty(imu);
    board = orEmpty(board);
    rack = orEmpty(rack);
    slot = orEmpty(slot);
    power = power == null ? Power.UNKNOWN : power;
    rates = rates == null ? Rates.UNKNOWN : rates;
    note = orEmpty(note);
  }

  /** A tracker of which only the id is known. */
  public static Tracker unknown(String id) {
    return new Tracker(id, id, "", "", "", "", "", Power.UNKNOWN, Rates.UNKNOWN, 0, "");
  }

  /** Whether the text can be a tracker's id. */
  public static boolean isId(String text) {
    return text != null && ID.matcher(text).matches() && !text.equals(".") && !text.equals("..");
  }

  private static String orEmpty(String text) {
    return text == null ? "" : text.strip();
  }
}
