package soakbench.readiness;

import java.io.Serializable;
import java.util.List;
import soakbench.model.Limits;
import soakbench.model.Spans;
import soakbench.model.State;
import soakbench.numerics.Measured;
import soakbench.readiness.estimator.TostInterval;

/** One line for the person at the rack: what to do, or what the tracker waits for. */
final class Advice implements Serializable {
  /** A tracker further below the band has most likely never been in it. */
  private static final double FELL_OUT_C = 1;

  private final Limits limits;

  Advice(Limits limits) {
    this.limits = limits;
  }

  String of(State state, Evidence e, List<Condition> conditions) {
    return switch (state) {
      case SILENT -> Readiness.SILENT_ADVICE;
      case HOT -> e.heat().advice();
      case DISTURBED -> disturbed(e);
      case READY -> ready(e);
      case UNDECIDED -> undecided(e);
      case SOAKING -> "waits: " + firstReason(conditions);
      case STALLED -> stalled(e);
      case WARMING -> warming(e);
      case COOLING -> cooling(e);
      case STARTING -> starting(e);
    };
  }

  private String disturbed(Evidence e) {
    return e.lines().endlessTurn() != null
        ? "can't say: "
            + e.lines().endlessTurn()
            + "; look at the scale of its lines, then at the unit"
        : "moved: leave it still for " + Spans.inMinutes(limits.stillForS());
  }

  private String ready(Evidence e) {
    if (e.bias().shifts() == null) {
      return "calibrate it now";
    }
    TostInterval s = e.bias().shifts().worstDps();
    return "calibrate it now: shift "
        + NumberWords.number(Math.abs(s.value()), 3)
        + " ± "
        + NumberWords.uncertainty(s.half(), 3)
        + " of "
        + NumberWords.number(limits.shiftLimitDps(), 3)
        + " °/s in the next "
        + Spans.inMinutes(limits.calibrationS());
  }

  private String undecided(Evidence e) {
    if (!e.lines().rates()) {
      return "can't say: its lines carry no rates";
    }
    if (e.lines().tooSlow()) {
      return "can't say: its lines are too slow to see motion, send five in ten seconds or more";
    }
    if (e.lines().deadGyro() != null) {
      return "can't say: "
          + e.lines().deadGyro()
          + "; look at its lines, power it off and on, then change the unit";
    }
    if (e.lines().correctedInside() != null) {
      return "can't say: " + e.lines().correctedInside() + "; let it print its raw rates if it can";
    }
    if (e.temperature().rate() == null || e.bias().shifts() == null) {
      return "can't say yet: "
          + (e.bias().shifts() == null ? e.bias().shiftReason() : e.temperature().rateReason());
    }
    if (e.temperature().rate().half() > limits.temperatureRateLimitCPerMin()) {
      return "can't say: its thermometer is too coarse to show when it has settled";
    }
    return "can't say: its noise hides what the limit asks";
  }

  private String stalled(Evidence e) {
    boolean below = e.temperature().nowC() < limits.bandLowC();
    String what = below ? "add cover or move it inwards" : "take some cover off";
    if (e.temperature().course() == null) {
      return "will not be ready as it lies: " + what;
    }
    Measured p = e.temperature().level();
    if (p.value() >= limits.hotC()) {
      return "uncover it soon: it heads for "
          + NumberWords.degrees(p.value())
          + ", over the "
          + NumberWords.degrees(limits.hotC())
          + " that count as hot";
    }
    return "will level off at "
        + NumberWords.number(p.value(), 1)
        + " ± "
        + NumberWords.number(Math.max(0.1, 2 * p.se()), 1)
        + " °C: "
        + what;
  }

  private static String starting(Evidence e) {
    boolean lost = e.temperature().rate() == null && e.tS() > 60;
    return lost
        ? "can't say: " + e.temperature().rateReason()
        : "too little heard yet: a minute is needed";
  }

  private String warming(Evidence e) {
    double below = limits.bandLowC() - e.temperature().nowC();
    return below > 0.05
        ? "below the band by " + NumberWords.degrees(below)
        : "it is just entering the band";
  }

  private String cooling(Evidence e) {
    double below = limits.bandLowC() - e.temperature().nowC();
    if (below > FELL_OUT_C) {
      return "not warming: below the band by " + NumberWords.degrees(below) + ", warm or cover it";
    }
    return e.temperature().nowC() > limits.bandHighC()
        ? "above the band by " + NumberWords.degrees(e.temperature().nowC() - limits.bandHighC())
        : "it is falling out of the band, cover it again";
  }

  private static String firstReason(List<Condition> conditions) {
    for (Condition c : conditions) {
      boolean binding = c.met() == null || !c.met();
      boolean waits = !c.name().equals("near_use") && !c.name().equals("dwell");
      if (binding && waits && c.reason() != null) {
        return waitsFor(c);
      }
    }
    return "all conditions must hold for a minute";
  }

  /** Rates and shifts stay with the condition: at the rack nobody acts upon their figures. */
  private static String waitsFor(Condition c) {
    boolean known = c.found().value() != null;
    return switch (c.name()) {
      case "heard" -> "for its lines, " + c.reason();
      case "temperature_settled" ->
          "for its temperature to settle" + (known ? "" : ", " + c.reason());
      case "shift" -> "for its bias to settle" + (known ? "" : ", " + c.reason());
      case "operating_band" -> c.reason();
      default -> "for " + c.name().replace('_', ' ') + ", " + c.reason();
    };
  }
}
