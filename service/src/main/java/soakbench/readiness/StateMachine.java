package soakbench.readiness;

import soakbench.model.Limits;
import soakbench.model.State;
import soakbench.numerics.Measured;

/**
 * Turns evidence into exactly one state, highest first where several hold. Ready is entered when
 * everything has held for the dwell, and left at once for motion, heat or the band, else when drift
 * is shown or nothing could be decided for five minutes. States that only wait change when the new
 * one has lasted some seconds. Not thread-safe.
 */
final class StateMachine {
  private static final double START_S = 60;
  private static final double LASTING_S = 15;
  private static final double UNDECIDABLE_S = 300;
  private static final double PATIENCE_S = 600;
  private static final double STALL_SPAN_S = 240;
  private static final double LEVEL_C_PER_MIN = 0.05;

  private final Limits limits;
  private final Conditions conditions;
  private State state = State.STARTING;
  private double settledSinceS = Double.NaN;
  private double lastSettledS = Double.NEGATIVE_INFINITY;
  private boolean ready;
  private State waiting;
  private double waitingSinceS;

  StateMachine(Limits limits, Conditions conditions) {
    this.limits = limits;
    this.conditions = conditions;
  }

  State next(Evidence e) {
    dwell(e);
    updateReady(e);
    state = choose(e);
    return state;
  }

  /** A gap: whatever dwell there was has to begin again. */
  void silent() {
    settledSinceS = Double.NaN;
    ready = false;
    waiting = null;
    state = State.SILENT;
  }

  private void dwell(Evidence e) {
    if (conditions.settled(e)) {
      settledSinceS = Double.isNaN(settledSinceS) ? e.tS() : settledSinceS;
      lastSettledS = e.tS();
    } else {
      settledSinceS = Double.NaN;
    }
  }

  /** How long everything but stillness has held, s. */
  double dwellS(Evidence e) {
    return Double.isNaN(settledSinceS) ? 0 : e.tS() - settledSinceS;
  }

  private void updateReady(Evidence e) {
    boolean seen = e.lines().showMotion() && e.lines().correctedInside() == null;
    boolean quiet = conditions.still(e) && seen && e.hotReason() == null;
    if (!ready) {
      ready = quiet && conditions.heard(e) && dwellS(e) >= limits.dwellS();
    } else {
      boolean inBand = conditions.inBand(e.temperature().nowC(), limits.bandMarginC());
      boolean stale = e.tS() - lastSettledS > UNDECIDABLE_S;
      ready = quiet && inBand && !conditions.driftShown(e) && !stale;
    }
  }

  private State choose(Evidence e) {
    if (e.hotReason() != null) {
      return State.HOT;
    }
    if (!conditions.still(e)) {
      return State.DISTURBED;
    }
    if (ready) {
      waiting = null;
      return State.READY;
    }
    return lasting(waitingState(e), e.tS());
  }

  private State lasting(State candidate, double tS) {
    boolean from =
        state == State.READY
            || state == State.DISTURBED
            || state == State.HOT
            || state == State.SILENT
            || state == State.STARTING;
    if (from || candidate == state) {
      waiting = null;
      return candidate;
    }
    if (candidate != waiting) {
      waiting = candidate;
      waitingSinceS = tS;
    }
    return tS - waitingSinceS >= LASTING_S ? candidate : state;
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
    return below == rising
        ? below ? State.WARMING : State.COOLING
        : below ? State.COOLING : State.STALLED;
  }

  /** Whether it lies level, or heads for a plateau, on this side of the band. */
  private boolean headingOutside(Evidence e, boolean below) {
    boolean level =
        e.temperature().rate().within(LEVEL_C_PER_MIN)
            && e.temperature().window().spanS() >= STALL_SPAN_S;
    if (level) {
      return true;
    }
    if (e.temperature().window().fit().isEmpty()
        || e.temperature().window().spanS() < STALL_SPAN_S
        || conditions.held(e)) {
      return false;
    }
    boolean towards = below == e.temperature().rate().value() > 0;
    Measured p = e.temperature().window().fit().get().plateau();
    return towards
        && (below
            ? p.value() + 2.5 * p.se() < limits.bandLowC()
            : p.value() - 2.5 * p.se() > limits.bandHighC());
  }

  private State inBand(Evidence e) {
    if (!e.lines().showMotion()
        || e.lines().deadAxis() >= 0
        || e.lines().correctedInside() != null) {
      return State.UNDECIDED;
    }
    if (e.temperature().window().fit().isPresent()
        && e.temperature().window().spanS() >= STALL_SPAN_S
        && e.temperature().rate().high() < -LEVEL_C_PER_MIN) {
      Measured p = e.temperature().window().fit().get().plateau();
      if (p.value() + 2 * p.se() < limits.bandLowC()) {
        return State.COOLING;
      }
    }
    return undecidable(e) ? State.UNDECIDED : State.SOAKING;
  }

  /** Whether the noise, not the drift, is what stands between this tracker and a decision. */
  private boolean undecidable(Evidence e) {
    if (e.temperature().window().spanS() < PATIENCE_S
        || e.bias().shift() == null
        || conditions.driftShown(e)) {
      return false;
    }
    TostInterval worst = e.bias().worstShift();
    boolean noisyShift = worst.half() > limits.shiftLimitDps();
    boolean noisyRate = e.temperature().rate().half() > limits.temperatureRateLimitCPerMin();
    return noisyShift || noisyRate;
  }
}
