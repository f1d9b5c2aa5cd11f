package soakbench.model;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * Limits while they are being set from a file or a call, with everything that is wrong with them.
 * What is not set keeps its value. Not thread-safe.
 */
public final class LimitsDraft {
  private static final int LONGEST_TOLD = 60;

  private final Map<LimitKey, Double> all;

  /** Was a limit once; files of that time still have it. */
  private static final String FORMER = "hold_after_turn_s";

  private static final String FORMER_REASON =
      "hold_after_turn_s is no limit any more: what the room may do is in the intervals; leave it"
          + " out";

  private final Set<LimitKey> wrong = EnumSet.noneOf(LimitKey.class);
  private final List<Problem> problems = new ArrayList<>();

  /**
   * One thing that is wrong.
   *
   * @param key the name it is about
   * @param reason what is wrong and what to do; names the limit
   */
  public record Problem(String key, String reason) {}

  /**
   * @param from limits without fault, that hold where nothing is set
   */
  public LimitsDraft(Limits from) {
    all = new EnumMap<>(LimitKey.values(from));
  }

  /**
   * Sets one.
   *
   * @param name what was given as its name
   * @param value a {@link Number}; null to leave it open; anything else is a problem and shown by
   *     its text
   */
  public void set(String name, Object value) {
    if (name.equals(FORMER)) {
      problems.add(new Problem(name, FORMER_REASON));
      return;
    }
    Optional<LimitKey> key = LimitKey.named(name);
    if (key.isEmpty()) {
      problems.add(new Problem(name, unknown(name)));
      return;
    }
    Optional<String> reason = reasonAgainst(key.get(), value);
    if (reason.isPresent()) {
      wrong.add(key.get());
      problems.add(new Problem(name, reason.get()));
    } else {
      all.put(key.get(), value == null ? null : ((Number) value).doubleValue());
    }
  }

  private static String unknown(String name) {
    String hint = NearestName.hint(name, LimitKey.keys());
    return "there is no limit \""
        + name
        + "\""
        + (hint.isEmpty() ? "; the limits are " + String.join(", ", LimitKey.keys()) : hint);
  }

  private static Optional<String> reasonAgainst(LimitKey key, Object value) {
    if (value == null && key.nullable()) {
      return Optional.empty();
    }
    double number = value instanceof Number n ? n.doubleValue() : Double.NaN;
    if (number >= key.least() && number <= key.most()) {
      return Optional.empty();
    }
    return Optional.of(
        key.key()
            + " is "
            + (value instanceof Number n && Double.isFinite(number) ? withUnit(key, n) : cut(value))
            + "; it must be a number from "
            + text(key.least())
            + " to "
            + withUnit(key, key.most())
            + (key.nullable() ? ", or null to leave it open" : ""));
  }

  private static String cut(Object value) {
    String text = String.valueOf(value);
    return text.length() <= LONGEST_TOLD ? text : text.substring(0, LONGEST_TOLD) + "…";
  }

  /**
   * All problems: of each value by itself, then of those that do not go together. Empty where the
   * limits can be used.
   */
  public List<Problem> problems() {
    List<Problem> found = new ArrayList<>(problems);
    if (fine(LimitKey.BAND_LOW_C, LimitKey.BAND_HIGH_C)) {
      checkBand(found);
    }
    return List.copyOf(found);
  }

  private void checkBand(List<Problem> found) {
    double low = all.get(LimitKey.BAND_LOW_C);
    double high = all.get(LimitKey.BAND_HIGH_C);
    String band = " the band of " + text(low) + " to " + withUnit(LimitKey.BAND_HIGH_C, high);
    if (low >= high) {
      String reason = "band_low_c %s must be below band_high_c %s; set the one or the other";
      found.add(
          new Problem(
              "band_low_c",
              reason.formatted(
                  withUnit(LimitKey.BAND_LOW_C, low), withUnit(LimitKey.BAND_HIGH_C, high))));
    } else if (fine(LimitKey.USE_TEMPERATURE_C)) {
      double use = all.get(LimitKey.USE_TEMPERATURE_C);
      if (use < low || use > high) {
        String given = "use_temperature_c " + withUnit(LimitKey.USE_TEMPERATURE_C, use);
        found.add(
            new Problem(
                "use_temperature_c",
                given + " is outside" + band + "; set it to lie within, or move the band"));
      }
    }
    if (fine(LimitKey.HOT_C) && all.get(LimitKey.HOT_C) <= high) {
      String given = "hot_c " + withUnit(LimitKey.HOT_C, all.get(LimitKey.HOT_C));
      found.add(
          new Problem(
              "hot_c", given + " must lie above" + band + "; raise it, or lower band_high_c"));
    }
  }

  private boolean fine(LimitKey... keys) {
    return List.of(keys).stream().noneMatch(wrong::contains);
  }

  /**
   * The limits.
   *
   * @throws IllegalStateException if there are problems
   */
  public Limits limits() {
    if (!problems().isEmpty()) {
      throw new IllegalStateException("limits with problems can't be used: " + problems());
    }
    return LimitKey.limits(all);
  }

  private static String withUnit(LimitKey key, Number value) {
    return text(value) + (key.unit().isEmpty() ? "" : " " + key.unit());
  }

  /** Without an exponent or a needless zero. */
  private static String text(Number value) {
    return new BigDecimal(value.toString()).stripTrailingZeros().toPlainString();
  }
}
