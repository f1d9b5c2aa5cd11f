package soakbench.bench;

import java.util.Locale;
import java.util.Set;
import soakbench.demo.simulation.Trouble;

/** Troubles that the usual mix brings together too seldom to count, forced upon each tracker. */
enum Forced {
  /** Steepest axis 0.05 to 0.12 deg/s per degC, in a room whose heating cycles. */
  STEEP_CYCLING(Trouble.STEEP_AXIS, Trouble.HEATING_CYCLE),
  /** The same behind a thermometer with steps of half a degree. */
  STEEP_CYCLING_COARSE(Trouble.STEEP_AXIS, Trouble.HEATING_CYCLE, Trouble.COARSE_THERMOMETER),
  /** The same with a lid opened. */
  STEEP_CYCLING_LID(Trouble.STEEP_AXIS, Trouble.HEATING_CYCLE, Trouble.LID_OPENED),
  /** The same, picked up. */
  STEEP_CYCLING_PICKED_UP(Trouble.STEEP_AXIS, Trouble.HEATING_CYCLE, Trouble.PICKED_UP);

  private final Set<Trouble> troubles;

  Forced(Trouble... troubles) {
    this.troubles = Set.of(troubles);
  }

  Set<Trouble> troubles() {
    return troubles;
  }

  /** The word that people use. */
  String word() {
    return name().toLowerCase(Locale.ROOT);
  }
}
