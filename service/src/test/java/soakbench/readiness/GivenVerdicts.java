package soakbench.readiness;

import java.util.List;
import soakbench.model.Estimate;
import soakbench.model.State;
import soakbench.readiness.Condition.Found;
import soakbench.readiness.Condition.Wanted;

/** Verdicts as a judge tells them, of which only some parts matter. */
public final class GivenVerdicts {
  private static final long S = 1_000_000L;

  private GivenVerdicts() {}

  /** A verdict of a soak that began at the epoch, as of its sixth hour, lying still for an hour. */
  public static Readiness of(String tracker, State state) {
    return of(tracker, state, 6 * 3600, 3600, null);
  }

  /** The same of one that is heard and has no soak. */
  public static Readiness withoutSoak(String tracker, State state) {
    return of(tracker, null, state, 6 * 3600, 3600, null);
  }

  /**
   * The same.
   *
   * @param asOfS s since 1970
   * @param stillS since when it lies still, s; null where that is not known
   */
  public static Readiness of(String tracker, State state, long asOfS, Integer stillS, Heat heat) {
    return of(tracker, tracker + "@19700101T000000000Z", state, asOfS, stillS, heat);
  }

  private static Readiness of(
      String tracker, String soak, State state, long asOfS, Integer stillS, Heat heat) {
    Estimate none = Estimate.unknown("not asked");
    Condition still =
        stillS == null
            ? null
            : new Condition(
                "still", true, Found.of(stillS.doubleValue()), Wanted.above(60), "s", null);
    return new Readiness(
        tracker,
        soak,
        new Readiness.Standing(
            state,
            asOfS * S,
            state == State.SILENT ? State.SOAKING : null,
            state == State.SILENT ? asOfS * S : null,
            still == null ? List.of() : List.of(still),
            "wait"),
        new Readiness.Figures(asOfS * S, 30.0, 0.0, null, List.of(none, none, none)),
        Readiness.ReadyTime.unknown("not asked"),
        Unwrapped.unknown("not asked"),
        heat);
  }
}
