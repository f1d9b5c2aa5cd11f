package soakbench.cli.commands;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.time.Instant;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.time.temporal.ChronoUnit;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import soakbench.cli.commands.Replay.SoakReplay;
import soakbench.drift.curve.BiasCurve;
import soakbench.drift.noise.Noise;
import soakbench.model.Estimate;
import soakbench.model.State;
import soakbench.model.StateChange;
import soakbench.readiness.Calibration;
import soakbench.readiness.CalibrationCheck;

/** Judged recordings as people read them. */
final class ReplayTable {
  private static final String ROW =
      "%-12s  %-16s  %7s  %-9s  %-11s  %-16s  %-13s  %-21s  %-17s  %s%n";
  private static final DateTimeFormatter START =
      DateTimeFormatter.ofPattern("yyyy-MM-dd HH:mm").withZone(ZoneOffset.UTC);

  private final PrintWriter out;

  ReplayTable(PrintWriter out) {
    this.out = out;
  }

  void header() {
    out.printf(
        ROW,
        "tracker",
        "start, UTC",
        "minutes",
        "ends",
        "first ready",
        "plateau, degC",
        "constant, s",
        "coefficient, deg/s/C",
        "noise, deg/sqrt(h)",
        "file");
  }

  /** Coefficient and noise are those of the axis that has the greatest. */
  void row(Path file, String tracker, SoakReplay soak) {
    List<StateChange> timeline = soak.timeline();
    String ends = timeline.isEmpty() ? "-" : timeline.get(timeline.size() - 1).state().word();
    double minutes = (soak.extent().endUs() - soak.extent().startUs()) / 60e6;
    out.printf(
        Locale.ROOT,
        ROW,
        tracker,
        START.format(Instant.EPOCH.plus(soak.extent().startUs(), ChronoUnit.MICROS)),
        String.format(Locale.ROOT, "%.1f", minutes),
        ends,
        firstReady(soak),
        estimate(soak.figures().warmUp().plateauC(), 2),
        soak.figures().warmUp().timeConstantsS().isEmpty()
            ? "not known"
            : estimate(
                soak.figures()
                    .warmUp()
                    .timeConstantsS()
                    .get(soak.figures().warmUp().timeConstantsS().size() - 1),
                0),
        greatest(soak.figures().biasCurve()),
        greatest(soak.figures().noise()),
        file.getFileName());
    // What is unknown has its reason right below.
    boolean ready = ends.equals(State.READY.word());
    note(ends, ready ? null : soak.last().advice());
    note("warm-up", soak.figures().warmUp().reason());
    note("bias curve", soak.figures().biasCurve().reason());
    note("noise", soak.figures().noise().reason());
    soak.calibrations().forEach(this::calibration);
  }

  private void calibration(Calibration c) {
    String when = Instant.ofEpochSecond(Math.floorDiv(c.atUs(), 1_000_000L)).toString();
    if (c.status() == Calibration.Status.QUESTION) {
      note("calibrated at " + when + "?", "it was off and on and moved; no accelerometer tells");
    } else if (c.check() == null) {
      note("calibrated at " + when, c.checkReason());
    } else {
      CalibrationCheck found = c.check().result();
      String verdict = found.verdict().word().replace('_', ' ');
      note("calibrated at " + when, verdict + ": " + found.reason());
    }
  }

  private void note(String what, String reason) {
    if (reason != null) {
      out.println("    " + what + ": " + reason);
    }
  }

  private static String firstReady(SoakReplay soak) {
    return soak.timeline().stream()
        .filter(c -> c.state() == State.READY)
        .findFirst()
        .map(
            c ->
                String.format(
                    Locale.ROOT, "%.1f min", (c.timeUs() - soak.extent().startUs()) / 60e6))
        .orElse("never");
  }

  private static String greatest(BiasCurve curve) {
    return curve.axes().stream()
        .filter(axis -> axis.figures().tempcoDpsPerC().known())
        .max(Comparator.comparing(axis -> Math.abs(axis.figures().tempcoDpsPerC().value())))
        .map(axis -> axis.axis() + " " + estimate(axis.figures().tempcoDpsPerC(), 4))
        .orElse("not known");
  }

  private static String greatest(Noise noise) {
    return noise.axes().stream()
        .filter(axis -> axis.angleRandomWalkDegPerSqrtH().known())
        .max(Comparator.comparing(axis -> axis.angleRandomWalkDegPerSqrtH().value()))
        .map(axis -> axis.axis() + " " + estimate(axis.angleRandomWalkDegPerSqrtH(), 2))
        .orElse("not known");
  }

  /** Where a symmetric interval would reach impossible values. */
  private static boolean lopsided(Estimate e) {
    double below = e.value() - e.low();
    double above = e.high() - e.value();
    return Math.max(below, above) > 2 * Math.min(below, above);
  }

  private static String estimate(Estimate e, int decimals) {
    if (!e.known()) {
      return "not known";
    }
    if (lopsided(e)) {
      String form = "%." + decimals + "f to %." + decimals + "f";
      return String.format(Locale.ROOT, form, e.low(), e.high());
    }
    double half = (e.high() - e.low()) / 2;
    // One figure of the uncertainty must show, or it reads as certainty.
    int shown = half > 0 ? Math.max(decimals, (int) Math.ceil(-Math.log10(half))) : decimals;
    String form = "%." + Math.min(6, shown) + "f";
    return String.format(Locale.ROOT, form + " ± " + form, e.value(), half);
  }
}
