package soakbench.api.roster;

import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
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
  private final Map<String, String> texts = new HashMap<>();
  private Tracker.Power power;
  private Tracker.Rates rates;
  private double temperatureOffsetC;

  TrackerFields(Tracker from) {
    id = from.id();
    texts.put("name", from.name());
    texts.put("lot", from.lot());
    texts.put("imu", from.imu());
    texts.put("board", from.board());
    texts.put("rack", from.rack());
    texts.put("slot", from.slot());
    texts.put("note", from.note());
    power = from.power();
    rates = from.rates();
    temperatureOffsetC = from.temperatureOffsetC();
  }

  static String badId(String id) {
    return id.isEmpty()
        ? "The id is missing; it says which tracker this is."
        : "Id \"" + id + "\" must be " + Tracker.ID_RULE + ".";
  }

  /** What to say of a name that is no field. */
  static String unknown(String kind, String name) {
    String hint = NearestName.hint(name, NAMES);
    String known = hint.isEmpty() ? "; known are " + String.join(", ", NAMES) + "." : hint;
    return "%s \"%s\" is not known%s".formatted(kind, name, known);
  }

  Tracker tracker() {
    return new Tracker(
        id,
        texts.get("name"),
        texts.get("lot"),
        texts.get("imu"),
        texts.get("board"),
        texts.get("rack"),
        texts.get("slot"),
        power,
        rates,
        temperatureOffsetC,
        texts.get("note"));
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
    if (field.equals("lot") && value.strip().matches("\\.{1,2}")) {
      return Optional.of("lot \"" + value + "\" can't stand in an address; give it another name.");
    }
    if (texts.replace(field, value) == null) {
      throw new IllegalArgumentException("no field " + field);
    }
    return Optional.empty();
  }

  private Optional<String> setPower(String value) {
    List<Tracker.Power> all = List.of(Tracker.Power.values());
    Optional<Tracker.Power> found =
        all.stream().filter(known -> Json.word(known).equals(word(value))).findFirst();
    found.ifPresent(known -> power = known);
    return found.isPresent()
        ? Optional.empty()
        : notKnown("power", value, all.stream().map(Json::word).toList());
  }

  private Optional<String> setRates(String value) {
    Optional<Tracker.Rates> found = Tracker.Rates.of(word(value));
    found.ifPresent(known -> rates = known);
    return found.isPresent() ? Optional.empty() : notKnown("rates", value, Tracker.Rates.words());
  }

  /** Nothing written means that it is not known. */
  private static String word(String value) {
    return value.isEmpty() ? "unknown" : value.toLowerCase(Locale.ROOT);
  }

  private static Optional<String> notKnown(String field, String value, List<String> words) {
    int last = words.size() - 1;
    return Optional.of(
        "%s \"%s\" is not known; use %s or %s."
            .formatted(field, value, String.join(", ", words.subList(0, last)), words.get(last)));
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
        "%s \"%s\" must be a number of degC from -20 to 20, such as -0.8."
            .formatted(TEMPERATURE_OFFSET_C, value));
  }
}
