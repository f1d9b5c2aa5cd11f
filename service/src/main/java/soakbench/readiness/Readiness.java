package soakbench.readiness;

import java.util.List;
import soakbench.model.Estimate;
import soakbench.model.State;

/**
 * The verdict on one tracker at one moment.
 *
 * @param tracker the tracker's id
 * @param soak the soak's id; null where it is heard but no soak of it can be judged
 * @param state what it is doing
 * @param sinceUs since when, microseconds since 1970
 * @param asOfUs up to which sample time the verdict reaches, microseconds since 1970
 * @param before the verdict that {@code disturbed} or {@code silent} interrupted; null otherwise
 * @param beforeUntilUs when that verdict was interrupted; null where {@code before} is
 * @param temperatureC newest temperature, degC; null before the first
 * @param temperatureRateCPerMin its rate, degC/min; null where not known yet
 * @param biasDps mean rates of the newest still stretch, deg/s, x y z; null where not known yet
 * @param shiftDps change of bias over the next calibration, deg/s, x y z
 * @param conditions all conditions, in the order in which they are listed in the methods
 * @param readyAt expected ready time, or null
 * @param readyAtReason why there is no ready time; null where there is one
 * @param unwrapped how long it may lie uncovered
 * @param advice one line: what to do, or what it waits for
 * @param heat what is too hot, or was when it fell silent; null where nothing is
 */
public record Readiness(
    String tracker,
    String soak,
    State state,
    long sinceUs,
    long asOfUs,
    State before,
    Long beforeUntilUs,
    Double temperatureC,
    Double temperatureRateCPerMin,
    double[] biasDps,
    List<Estimate> shiftDps,
    List<Condition> conditions,
    ReadyAt readyAt,
    String readyAtReason,
    Unwrapped unwrapped,
    String advice,
    Heat heat) {

  /** What to do about silence. */
  public static final String SILENT_ADVICE =
      "no lines heard: look at its cable and battery, then try another port";
}
