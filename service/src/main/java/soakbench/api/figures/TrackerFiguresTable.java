package soakbench.api.figures;

import java.util.List;
import java.util.function.Function;
import java.util.stream.Collectors;
import soakbench.api.http.Table;
import soakbench.api.http.TrackerNames;
import soakbench.lots.AxisSummary;
import soakbench.lots.TrackerFigures;
import soakbench.lots.TrackerFigures.NotUsed;
import soakbench.model.Estimate;
import soakbench.readiness.CalibrationCheck;

/** A tracker's figures as they are answered, with its name, its lot and its newest check. */
final class TrackerFiguresTable {
  private static final Estimate UNCHECKED =
      Estimate.unknown("no calibration of it was checked yet");

  private TrackerFiguresTable() {}

  static Table<TrackerFiguresRow> of(TrackerNames names) {
    Table<TrackerFiguresRow> table =
        new Table<TrackerFiguresRow>()
            .column("tracker", TrackerFiguresRow.of(TrackerFigures::tracker))
            .column("name", TrackerFiguresRow.of(f -> names.of(f.tracker())))
            .column("lot", TrackerFiguresRow.of(f -> names.lotOf(f.tracker())))
            .column("soaks", TrackerFiguresRow.of(f -> f.soaks().count()))
            .column("soaks_used", TrackerFiguresRow.of(f -> f.soaks().used()))
            .column("soak", TrackerFiguresRow.of(f -> f.soaks().newest().id()))
            .time("as_of", TrackerFiguresRow.of(f -> f.soaks().newest().endUs()))
            .column("ended", TrackerFiguresRow.of(f -> f.soaks().newest().ended()))
            .column("operating_c", TrackerFiguresRow.of(TrackerFigures::operatingC))
            .column("extrapolated", TrackerFiguresRow.of(TrackerFigures::extrapolated))
            .column("use_c", TrackerFiguresRow.of(f -> f.use().useC()))
            .estimate("plateau_c", TrackerFiguresRow.of(f -> f.warmUp().plateauC()))
            .estimate("time_constant_s", TrackerFiguresRow.of(f -> f.warmUp().timeConstantS()))
            .column(
                "time_constant_prior_only",
                TrackerFiguresRow.of(f -> f.warmUp().timeConstantPriorOnly()))
            .column("sample_rate_hz", TrackerFiguresRow.of(TrackerFigures::sampleRateHz))
            .estimate(
                "greatest_tempco_dps_per_c",
                TrackerFiguresRow.of(TrackerFigures::greatestTempcoDpsPerC))
            .estimate("deg_per_min", TrackerFiguresRow.of(f -> f.use().degPerMin()))
            .estimate("minutes_to_5_deg", TrackerFiguresRow.of(f -> f.use().minutesTo5Deg()))
            .time("checked", r -> r.checked() == null ? null : r.checked().atUs())
            .column("check_verdict", TrackerFiguresRow.check(CalibrationCheck::verdict, null))
            .estimate(
                "check_deg_per_min",
                TrackerFiguresRow.check(CalibrationCheck::degPerMin, UNCHECKED))
            .estimate(
                "check_deg_per_min_in_use",
                TrackerFiguresRow.check(CalibrationCheck::degPerMinInUse, UNCHECKED))
            .member("axes", TrackerFiguresRow.of(TrackerFigures::axes))
            .member("soaks_not_used", TrackerFiguresRow.of(f -> f.soaks().notUsed()))
            .cell("soaks_not_used", TrackerFiguresRow.of(f -> words(f.soaks().notUsed())));
    return table
        .eachAxis((axis, i) -> addAxis(table, "_" + axis + "_", i))
        .column("soaks_left_out", TrackerFiguresRow.of(f -> f.soaks().leftOut()));
  }

  private static String words(List<NotUsed> soaks) {
    return soaks.stream().map(s -> s.soak() + ": " + s.reason()).collect(Collectors.joining("; "));
  }

  private static void addAxis(Table<TrackerFiguresRow> table, String of, int axis) {
    table
        .estimateCells("bias" + of + "dps", on(axis, a -> a.bias().biasDps()))
        .estimateCells("tempco" + of + "dps_per_c", on(axis, a -> a.bias().tempcoDpsPerC()))
        .estimateCells("span" + of + "dps", on(axis, a -> a.bias().spanDps()))
        .estimateCells("settling" + of + "dps", on(axis, a -> a.bias().settlingDps()))
        .cell("residual_sd" + of + "dps", on(axis, a -> a.bias().residualSdDps()))
        .estimateCells("turn_on" + of + "dps", on(axis, AxisSummary::turnOnDps))
        .estimateCells(
            "angle_random_walk" + of + "deg_per_sqrt_h",
            on(axis, a -> a.noise().angleRandomWalkDegPerSqrtH()))
        .estimateCells(
            "bias_instability" + of + "deg_per_h",
            on(axis, a -> a.noise().biasInstabilityDegPerH()))
        .estimateCells(
            "rate_random_walk" + of + "dps_per_sqrt_s",
            on(axis, a -> a.noise().rateRandomWalkDpsPerSqrtS()));
  }

  private static <T> Function<TrackerFiguresRow, T> on(int axis, Function<AxisSummary, T> figure) {
    return TrackerFiguresRow.of(f -> figure.apply(f.axes().get(axis)));
  }
}
