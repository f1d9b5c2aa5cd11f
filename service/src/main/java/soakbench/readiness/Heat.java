package soakbench.readiness;

import java.io.Serializable;

/**
 * What is too hot, heats too fast, or heads for too hot, for a battery.
 *
 * @param kind which of them
 * @param value the temperature, degC, its rise, degC/min, or the level that it heads for, degC
 * @param limit what it must stay below, in the same unit
 * @param reason both in words
 * @param passesAtUs when it is expected to pass the limit, microseconds since 1970; null where it
 *     has, or that is not known
 */
public record Heat(Kind kind, double value, double limit, String reason, Long passesAtUs)
    implements Serializable {

  /** What heat does. */
  public enum Kind {
    /** It is over the limit. */
    HOT,
    /** It rises too fast. */
    FAST_RISE,
    /** It will be over the limit if left as it lies. */
    HEADING_HOT
  }

  static Heat over(double temperatureC, double limitC) {
    String shown = NumberWords.degrees(temperatureC);
    String limit = NumberWords.degrees(limitC);
    String reason = shown + (shown.equals(limit) ? " is just over " : " is over ") + limit;
    return new Heat(Kind.HOT, temperatureC, limitC, reason, null);
  }

  static Heat rising(double riseCPerMin, double limitCPerMin) {
    String reason =
        "rising "
            + NumberWords.number(riseCPerMin, 1)
            + " °C/min, over "
            + NumberWords.number(limitCPerMin, 1);
    return new Heat(Kind.FAST_RISE, riseCPerMin, limitCPerMin, reason, null);
  }

  /** What to do, and why, in one line. */
  public String advice() {
    return kind == Kind.HEADING_HOT
        ? "uncover it soon, off the charger: " + reason
        : "uncover it now and keep to the cell maker's limits: " + reason;
  }

  /** Unit of value and limit. */
  public String unit() {
    return kind == Kind.FAST_RISE ? "degC/min" : "degC";
  }
}
