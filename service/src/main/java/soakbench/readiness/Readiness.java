package soakbench.readiness;

import java.io.Serializable;
import java.util.List;
import soakbench.model.Estimate;
import soakbench.model.State;

/**
 * The verdict on one tracker at one moment.
 *
 * @param tracker the tracker's id
 * @param soak the soak's id; null where it is heard but no soak of it can be judged
 * @param standing what it is doing, why, and what to do
 * @param figures what was measured of it
 * @param readyTime when it will be ready
 * @param unwrapped how long it may lie uncovered
 * @param heat what is too hot, or was when it fell silent; null where nothing is
 */
public record Readiness(
    String tracker,
    String soak,
    Standing standing,
    Figures figures,
    ReadyTime readyTime,
    Unwrapped unwrapped,
    Heat heat)
    implements Serializable {

  /** What to do about silence. */
  public static final String SILENT_ADVICE =
      "no lines heard: look at its cable and battery, then try another port";

  /**
   * What a tracker is doing.
   *
   * @param state its state
   * @param sinceUs since when, microseconds since 1970
   * @param before the state that {@code disturbed} or {@code silent} interrupted; null otherwise
   * @param beforeUntilUs when that state was interrupted; null where {@code before} is
   * @param conditions all conditions, in the order in which they are listed in the methods
   * @param advice one line: what to do, or what it waits for
   */
  public record Standing(
      State state,
      long sinceUs,
      State before,
      Long beforeUntilUs,
      List<Condition> conditions,
      String advice)
      implements Serializable {}

  /**
   * What was measured of a tracker.
   *
   * @param asOfUs up to which sample time this reaches, microseconds since 1970
   * @param temperatureC newest temperature, degC; null before the first
   * @param temperatureRateCPerMin its rate, degC/min; null where not known yet
   * @param biasDps mean rates of the newest still stretch, deg/s, x y z; null where not known yet
   * @param shiftDps change of bias over the next calibration, deg/s, x y z
   */
  public record Figures(
      long asOfUs,
      Double temperatureC,
      Double temperatureRateCPerMin,
      double[] biasDps,
      List<Estimate> shiftDps)
      implements Serializable {

    /** The same with another temperature. */
    public Figures withTemperatureC(Double otherC) {
      return new Figures(asOfUs, otherC, temperatureRateCPerMin, biasDps, shiftDps);
    }

    /** The same as of another time. */
    Figures asOf(long otherUs) {
      return new Figures(otherUs, temperatureC, temperatureRateCPerMin, biasDps, shiftDps);
    }
  }

  /**
   * When a tracker will be ready.
   *
   * @param at the expected time, or null
   * @param reason why there is none; null where there is one
   */
  public record ReadyTime(ReadyAt at, String reason) implements Serializable {
    /** There is none, and why. */
    public static ReadyTime unknown(String reason) {
      return new ReadyTime(null, reason);
    }
  }

  public State state() {
    return standing.state();
  }

  public long sinceUs() {
    return standing.sinceUs();
  }

  public List<Condition> conditions() {
    return standing.conditions();
  }

  public String advice() {
    return standing.advice();
  }

  public long asOfUs() {
    return figures.asOfUs();
  }

  public Double temperatureC() {
    return figures.temperatureC();
  }

  public ReadyAt readyAt() {
    return readyTime.at();
  }
}
