package soakbench.readiness.estimator;

import java.io.Serializable;

/**
 * What is held against a second by those who look at other things than heat and drift.
 *
 * @param wild whether its temperature is not to be believed
 * @param barred whether something forbids ready, whatever is estimated
 * @param slopeDpsPerC how steep each axis may be for all that its rates show, deg/s per degC: one
 *     standard deviation; 0 where the rates show it
 */
public record Doubts(boolean wild, boolean barred, double slopeDpsPerC) implements Serializable {
  public static final Doubts NONE = new Doubts(false, false, 0);
}
