package soakbench.readiness;

import java.io.Serializable;
import soakbench.model.Limits;
import soakbench.model.State;
import soakbench.numerics.Measured;

/**
 * Turns evidence into exactly one state, highest first where several hold. States that only wait
 * change when the new one has lasted some seconds, and none of them says "never" while there is a
 * time at which it will be ready. Not thread-safe.
 */
final class StateMachine implements Serializable {
  private static final double START_S = 60;
  private static final double LASTING_S = 15;
  private static final double PATIENCE_S = 600;
  private static final double STALL_SPAN_S = 240;
  private static final double LEVEL_C_PER_MIN = 0.05;

  private final Limits limits;
  private final Conditions conditions;
  private State state = State.STARTING;
  private State waiting;
  private double waitingSinceS;

  StateMachine(Limits limits, Conditions conditions) {
    this.limits = limits;
    this.conditions = conditions;
  }

  State next(Evidence e) {
    state = choose(e);
    return state;
  }

  /** Nothing is heard any more. */
  void silent() {
    waiting = null;
    state = State.SILENT;
  }

  private State choose(Evidence e) {
    if (e.hotReason() != null) {
      return State.HOT;
    }
    if (!conditions.still(e)) {
      return State.DISTURBED;
    }
    if (e.dwell().ready()) {
      waiting = null;
      return State.READY;
    }
    return lasting(waitingState(e), e);
  }

  private State lasting(State candidate, Evidence e) {
    boolean denied = e.expected() != null && (state == State.STALLED || state == State.UNDECIDED);
    boolean from =
        state == State.READY
            || state == State.DISTURBED
            || state == State.HOT
            || state == State.SILENT
            || state == State.STARTING
            || denied;
    if (from || candidate == state) {
      waiting = null;
      return candidate;
    }
    if (candidate != waiting) {
      waiting = candidate;
      waitingSinceS = e.tS();
    }
    return e.tS() - waitingSinceS >= LASTING_S ? candidate : state;
  }

  private State waitingState(Evidence e) {
    if (!e.temperature().known() || e.temperature().rate() == null || e.tS() < START_S) {
      return State.STARTING;
    }
    if (conditions.inBand(e.temperature().nowC(), 0)) {
      return inBand(e);
    }
    boolean below = e.temperature().nowC() < limits.bandLowC();
    if (headingOutside(e, below)) {
      return State.STALLED;
    }
    boolean rising = e.temperature().rate().value() > 0;
    if (below) {
      return rising ? State.WARMING : State.COOLING;
    }
    return rising && e.expected() == null ? State.STALLED : State.COOLING;
  }

  /** Whether it lies level, or heads for a plateau, on this side of the band. */
  private boolean headingOutside(Evidence e, boolean below) {
    if (e.expected() != null || e.temperature().followedS() < STALL_SPAN_S) {
      return false;
    }
    if (e.temperature().rate().within(LEVEL_C_PER_MIN)) {
      return true;
    }
    boolean towards = below == e.temperature().rate().value() > 0;
    Measured p = e.temperature().level();
    return towards
        && (below
            ? p.value() + 2.5 * p.se() < limits.bandLowC()
            : p.value() - 2.5 * p.se() > limits.bandHighC());
  }

  private State inBand(Evidence e) {
    if (!e.lines().showMotion()
        || e.lines().deadGyro() != null
        || e.lines().correctedInside() != null) {
      return State.UNDECIDED;
    }
    if (e.expected() != null) {
      return State.SOAKING;
    }
    if (e.temperature().followedS() >= STALL_SPAN_S
        && e.temperature().rate().high() < -LEVEL_C_PER_MIN) {
      Measured p = e.temperature().level();
      if (p.value() + 2 * p.se() < limits.bandLowC()) {
        return State.COOLING;
      }
    }
    return undecidable(e) ? State.UNDECIDED : State.SOAKING;
  }

  /** Whether the noise, not the drift, is what stands between this tracker and a decision. */
  private boolean undecidable(Evidence e) {
    if (e.temperature().followedS() < PATIENCE_S
        || e.bias().shifts() == null
        || conditions.driftShown(e)) {
      return false;
    }
    boolean noisyShift = e.bias().shifts().worstDps().half() > limits.shiftLimitDps();
    boolean noisyRate = e.temperature().rate().half() > limits.temperatureRateLimitCPerMin();
    return noisyShift || noisyRate;
  }
}
