package soakbench.api.readiness;

import java.util.List;
import soakbench.live.calibration.NewestMarks;
import soakbench.model.Estimate;
import soakbench.model.State;
import soakbench.readiness.Calibration;
import soakbench.readiness.Condition;
import soakbench.readiness.NextStep;
import soakbench.readiness.Readiness;
import soakbench.readiness.ReadyAt;
import soakbench.readiness.Unwrapped;

/**
 * A verdict as it is answered: {@link Readiness} with the tracker's name beside its id, and what
 * follows from it.
 *
 * @param minutesToReady from the verdict to the expected ready time; 0 where it is ready, null
 *     where no time can be told
 * @param adviceRepeats names of the conditions whose reason the line of advice repeats
 * @param nextStep what is to be done next with the tracker; null where nothing is but to wait
 * @param movedSinceCheck whether it was moved since the check of a calibration in this soak
 */
public record ReadinessView(
    String tracker,
    String name,
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
    Double minutesToReady,
    Unwrapped unwrapped,
    String advice,
    HeatView heat,
    List<String> adviceRepeats,
    NextStep nextStep,
    boolean movedSinceCheck) {

  public static ReadinessView of(Readiness verdict, String name, NewestMarks marks) {
    Calibration newest = marks.of(verdict.tracker()).orElse(null);
    return new ReadinessView(
        verdict.tracker(),
        name,
        verdict.soak(),
        verdict.state(),
        verdict.sinceUs(),
        verdict.asOfUs(),
        verdict.standing().before(),
        verdict.standing().beforeUntilUs(),
        verdict.temperatureC(),
        verdict.figures().temperatureRateCPerMin(),
        verdict.figures().biasDps(),
        verdict.figures().shiftDps(),
        verdict.conditions(),
        verdict.readyAt(),
        verdict.readyTime().reason(),
        minutesToReady(verdict),
        verdict.unwrapped(),
        verdict.advice(),
        HeatView.of(verdict.heat()),
        repeated(verdict),
        NextStep.of(verdict, newest, marks.kept(verdict)),
        NextStep.movedSinceCheck(verdict, newest));
  }

  private static Double minutesToReady(Readiness v) {
    if (v.state() == State.READY) {
      return 0.0;
    }
    return v.readyAt() == null
        ? null
        : Math.max(0, Math.round((v.readyAt().expectedUs() - v.asOfUs()) / 6e6) / 10.0);
  }

  private static List<String> repeated(Readiness v) {
    return v.conditions().stream()
        .filter(c -> c.reason() != null && v.advice().contains(c.reason()))
        .map(Condition::name)
        .toList();
  }
}
