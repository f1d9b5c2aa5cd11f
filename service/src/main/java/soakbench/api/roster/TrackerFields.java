package soakbench.api.roster;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import soakbench.api.http.Json;
import soakbench.model.NearestName;
import soakbench.model.Tracker;

/** A tracker of the roster while its fields are being set from text. */
public final class TrackerFields {
  static final String ID = "id";
  static final String TEMPERATURE_OFFSET_C = "temperature_offset_c";

  /** All fields, in the order of the roster table. */
  public static final List<String> NAMES =
      List.of(
          ID,
          "name",
          "lot",
          "imu",
          "board",
          "rack",
          "slot",
          "power",
          "rates",
          TEMPERATURE_OFFSET_C,
          "note");

  private static final int LONGEST_TEXT = 200;
  private static final double LARGEST_OFFSET_C = 20;

  private final String id;
  private String name;
  private String lot;
  private String imu;
  private String board;
  private String rack;
  private String slot;
  private Tracker.Power power;
  private Tracker.Rates rates;
  private double temperatureOffsetC;
  private String note;

  TrackerFields(Tracker from) {
    id = from.id();
    name = from.name();
    lot = from.lot();
    imu = from.imu();
    board = from.board();
    rack = from.rack();
    slot = from.slot();
    power = from.power();
    rates = from.rates();
    temperatureOffsetC = from.temperatureOffsetC();
    note = from.note();
  }

  static String badId(String id) {
    return id.isEmpty()
        ? "The id is missing; it says which tracker this is."
        : "Id \"" + id + "\" must be " + Tracker.ID_RULE + ".";
  }

  /** What to say of a name that is no field. */
  static String unknown(String kind, String name) {
    String hint = NearestName.hint(name, NAMES);
    return kind
        + " \""
        + name
        + "\" is not known"
        + (hint.isEmpty() ? "; known are " + String.join(", ", NAMES) + "." : hint);
  }

  Tracker tracker() {
    return new Tracker(
        id, name, lot, imu, board, rack, slot, power, rates, temperatureOffsetC, note);
  }

  /**
   * Sets a field other than the id.
   *
   * @return why it could not be set, if so
   */
  Optional<String> set(String field, String value) {
    if (value.length() > LONGEST_TEXT) {
      return Optional.of(
          field + " has " + value.length() + " characters; at most " + LONGEST_TEXT + " are kept.");
    }
    return switch (field) {
      case "power" -> setPower(value);
      case "rates" -> setRates(value);
      case TEMPERATURE_OFFSET_C -> setOffset(value);
      default -> setText(field, value);
    };
  }

  private Optional<String> setText(String field, String value) {
    if (value.chars().anyMatch(c -> Character.isISOControl(c))) {
      return Optional.of(field + " has a line break or another control character; take it out.");
    }
    switch (field) {
      case "name" -> name = value;
      case "lot" -> lot = value;
      case "imu" -> imu = value;
      case "board" -> board = value;
      case "rack" -> rack = value;
      case "slot" -> slot = value;
      case "note" -> note = value;
      default -> throw new IllegalArgumentException("no field " + field);
    }
    return Optional.empty();
  }

  private Optional<String> setPower(String value) {
    Optional<Tracker.Power> word = word(Tracker.Power.values(), value, Tracker.Power.UNKNOWN);
    word.ifPresent(w -> power = w);
    return word.isPresent()
        ? Optional.empty()
        : Optional.of("power \"" + value + "\" is not known; use battery, usb or unknown.");
  }

  private Optional<String> setRates(String value) {
    Optional<Tracker.Rates> word = word(Tracker.Rates.values(), value, Tracker.Rates.UNKNOWN);
    word.ifPresent(w -> rates = w);
    return word.isPresent()
        ? Optional.empty()
        : Optional.of("rates \"" + value + "\" is not known; use raw, corrected or unknown.");
  }

  private static <E extends Enum<E>> Optional<E> word(E[] words, String value, E whenEmpty) {
    if (value.isEmpty()) {
      return Optional.of(whenEmpty);
    }
    String lower = value.toLowerCase(Locale.ROOT);
    return Arrays.stream(words).filter(w -> Json.word(w).equals(lower)).findFirst();
  }

  private Optional<String> setOffset(String value) {
    try {
      double offsetC = value.isEmpty() ? 0 : Double.parseDouble(value);
      if (Math.abs(offsetC) <= LARGEST_OFFSET_C) {
        temperatureOffsetC = offsetC;
        return Optional.empty();
      }
    } catch (NumberFormatException e) {
      // Falls through to the same answer as a number out of range: both name what is allowed.
    }
    return Optional.of(
        TEMPERATURE_OFFSET_C
            + " \""
            + value
            + "\" must be a number of degC from -20 to 20, such as -0.8.");
  }
}
