package soakbench.cli.commands;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import soakbench.api.http.Table;
import soakbench.cli.commands.Replay.SoakReplay;
import soakbench.drift.curve.BiasCurve;
import soakbench.drift.noise.Noise;
import soakbench.model.Estimate;
import soakbench.model.State;

/** Judged recordings as CSV, a row a soak. */
final class ReplayCsv {
  private static final Table<Row> TABLE = table();

  /** One soak of one file. */
  private record Row(Path file, String tracker, SoakReplay soak) {
    List<Estimate> tausS() {
      return soak.figures().warmUp().timeConstantsS();
    }

    Estimate ofCurve(int axis, Function<BiasCurve.Figures, Estimate> figure) {
      List<BiasCurve.Axis> axes = soak.figures().biasCurve().axes();
      return axes.size() > axis ? figure.apply(axes.get(axis).figures()) : null;
    }

    Estimate ofNoise(int axis, Function<Noise.Axis, Estimate> figure) {
      List<Noise.Axis> axes = soak.figures().noise().axes();
      return axes.size() > axis ? figure.apply(axes.get(axis)) : null;
    }

    /** From its beginning, s; null where it never was. */
    Double readyS() {
      return soak.timeline().stream()
          .filter(c -> c.state() == State.READY)
          .map(c -> (c.timeUs() - soak.extent().startUs()) / 1e6)
          .findFirst()
          .orElse(null);
    }

    State last() {
      int count = soak.timeline().size();
      return count == 0 ? null : soak.timeline().get(count - 1).state();
    }
  }

  private ReplayCsv() {}

  static String of(Map<Path, Replay.Judged> judged) {
    List<Row> rows = new ArrayList<>();
    judged.forEach(
        (file, one) ->
            one.trackers()
                .forEach(t -> t.soaks().forEach(s -> rows.add(new Row(file, t.tracker(), s)))));
    return TABLE.csv(rows);
  }

  private static Table<Row> table() {
    Table<Row> table =
        new Table<Row>()
            .cell("file", Row::file)
            .cell("tracker", Row::tracker)
            .cell("soak", r -> r.soak().extent().soak())
            .cellTime("start", r -> r.soak().extent().startUs())
            .cellTime("end", r -> r.soak().extent().endUs())
            .cell("samples", r -> r.soak().extent().samples())
            .cell("rejected", r -> r.soak().extent().rejected())
            .cell("state", Row::last)
            .cell("first_ready_s", Row::readyS)
            .estimateCells("plateau_c", r -> r.soak().figures().warmUp().plateauC())
            .estimateCells(
                "time_constant_s",
                r -> r.tausS().isEmpty() ? null : r.tausS().get(r.tausS().size() - 1));
    table.eachAxis(
        (axis, i) ->
            table
                .estimateCells(
                    "tempco_" + axis + "_dps_per_c",
                    r -> r.ofCurve(i, BiasCurve.Figures::tempcoDpsPerC))
                .estimateCells(
                    "span_" + axis + "_dps", r -> r.ofCurve(i, BiasCurve.Figures::spanDps)));
    table.eachAxis(
        (axis, i) ->
            table
                .estimateCells(
                    "angle_random_walk_" + axis + "_deg_per_sqrt_h",
                    r -> r.ofNoise(i, Noise.Axis::angleRandomWalkDegPerSqrtH))
                .estimateCells(
                    "bias_instability_" + axis + "_deg_per_h",
                    r -> r.ofNoise(i, Noise.Axis::biasInstabilityDegPerH)));
    return table;
  }
}
