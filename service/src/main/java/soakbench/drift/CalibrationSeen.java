package soakbench.drift;

/**
 * A handling that was, or may have been, a calibration. Its temperature and bias are those of the
 * last still stretch before lifting.
 *
 * @param atSecond when it was lifted, whole seconds since 1970; with the tracker, the mark's key
 * @param restSecond when it lay still again, whole seconds since 1970
 * @param sure whether the poses show it; else it is a question to whoever stands there
 * @param temperatureC before lifting, degC; NaN where none was known
 * @param biasDps before lifting, deg/s, x y z
 * @param stillS how many still seconds that mean is of
 * @param faces different faces that it lay on meanwhile; 0 without an accelerometer
 * @param rebooted whether it was off and on
 * @param openS from lifting to lying still again, s
 * @param temperatureSpreadC greatest less least temperature over the poses, degC; NaN where fewer
 *     than two were known
 */
public record CalibrationSeen(
    long atSecond,
    long restSecond,
    boolean sure,
    double temperatureC,
    double[] biasDps,
    int stillS,
    int faces,
    boolean rebooted,
    long openS,
    double temperatureSpreadC) {

  public CalibrationSeen {
    biasDps = biasDps.clone();
  }

  @Override
  public double[] biasDps() {
    return biasDps.clone();
  }
}
