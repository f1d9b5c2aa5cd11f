package soakbench.api.readiness;

import soakbench.readiness.Heat;

/**
 * What is too hot, or will be, as it is answered; its parts are those of {@link Heat}.
 *
 * @param unit unit of value and limit
 */
record HeatView(
    Heat.Kind kind, double value, double limit, String unit, String reason, Long passesAtUs) {

  /** Null where nothing is too hot. */
  static HeatView of(Heat heat) {
    return heat == null
        ? null
        : new HeatView(
            heat.kind(), heat.value(), heat.limit(), heat.unit(), heat.reason(), heat.passesAtUs());
  }
}
