package soakbench.api;

import java.util.List;
import soakbench.model.Estimate;
import soakbench.model.State;
import soakbench.readiness.Condition;
import soakbench.readiness.Readiness;
import soakbench.readiness.ReadyAt;
import soakbench.readiness.Unwrapped;

/** A verdict as it is answered: {@link Readiness} with the tracker's name beside its id. */
record ReadinessView(
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
    Unwrapped unwrapped,
    String advice,
    HeatView heat) {

  static ReadinessView of(Readiness verdict, String name) {
    return new ReadinessView(
        verdict.tracker(),
        name,
        verdict.soak(),
        verdict.state(),
        verdict.sinceUs(),
        verdict.asOfUs(),
        verdict.before(),
        verdict.beforeUntilUs(),
        verdict.temperatureC(),
        verdict.temperatureRateCPerMin(),
        verdict.biasDps(),
        verdict.shiftDps(),
        verdict.conditions(),
        verdict.readyAt(),
        verdict.readyAtReason(),
        verdict.unwrapped(),
        verdict.advice(),
        HeatView.of(verdict.heat()));
  }
}
