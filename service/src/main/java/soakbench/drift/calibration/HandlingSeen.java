package soakbench.drift.calibration;

import java.util.Objects;

/**
 * A handling: a calibration, what may have been one, or something else. Its temperature and bias
 * are those of the last still stretch before lifting. Its parts are not grouped: it is stored by
 * their names, and what older releases stored must still be read.
 *
 * @param atSecond when it was lifted, whole seconds since 1970; with the tracker, the key of its
 *     calibration
 * @param restSecond when it lay still again, whole seconds since 1970
 * @param kind what it shows itself to be
 * @param temperatureC before lifting, degC; NaN where none was known
 * @param biasDps before lifting, deg/s, x y z
 * @param stillS how many still seconds that mean is of
 * @param faces different faces that it lay on meanwhile; 0 without an accelerometer
 * @param rebooted whether it was off and on
 * @param openS from lifting to lying still again, s
 * @param temperatureSpreadC greatest less least temperature over the poses, degC; NaN where fewer
 *     than two were known
 */
public record HandlingSeen(
    long atSecond,
    long restSecond,
    Kind kind,
    double temperatureC,
    double[] biasDps,
    int stillS,
    int faces,
    boolean rebooted,
    long openS,
    double temperatureSpreadC) {

  /** What a handling shows itself to be. */
  public enum Kind {
    /** A calibration: its poses show it. */
    CALIBRATION,
    /** A question to whoever stands there. */
    QUESTION,
    /** Nothing that looks like one; a person may still say that it was. */
    OTHER
  }

  public HandlingSeen {
    Objects.requireNonNull(kind, "kind");
    biasDps = biasDps.clone();
  }

  /** Whether it shows itself to be a calibration. */
  public boolean sure() {
    return kind == Kind.CALIBRATION;
  }

  /** Whether it was taken up, and not only said to be calibrated as it lay. */
  boolean lifted() {
    return restSecond > atSecond;
  }

  @Override
  public double[] biasDps() {
    return biasDps.clone();
  }
}
