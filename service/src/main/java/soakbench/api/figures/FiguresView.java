package soakbench.api.figures;

import java.util.List;
import java.util.function.Function;
import soakbench.api.http.Table;
import soakbench.api.http.TrackerNames;
import soakbench.lots.AxisSummary;
import soakbench.lots.TrackerFigures;
import soakbench.model.Estimate;
import soakbench.readiness.Calibration;
import soakbench.readiness.CalibrationCheck;

/**
 * One tracker's figures as they are answered.
 *
 * @param soaks how many soaks it had
 * @param soaksUsed how many of them gave a bias curve at the operating temperature
 * @param soak its newest soak
 * @param asOfUs that soak's newest sample
 * @param ended whether that soak has ended; while it goes on its figures follow each minute
 * @param checkedUs when its newest checked calibration was made; null where none is
 * @param checkVerdict what that check said
 * @param checkDegPerMin heading error rate that it left, deg/min
 * @param checkDegPerMinInUse the same at the use temperature
 */
record FiguresView(
    String tracker,
    String name,
    String lot,
    int soaks,
    int soaksUsed,
    String soak,
    long asOfUs,
    boolean ended,
    Double operatingC,
    double useC,
    Estimate plateauC,
    Estimate timeConstantS,
    Double sampleRateHz,
    Estimate greatestTempcoDpsPerC,
    Estimate degPerMin,
    Estimate minutesTo5Deg,
    Long checkedUs,
    CalibrationCheck.Verdict checkVerdict,
    Estimate checkDegPerMin,
    Estimate checkDegPerMinInUse,
    List<AxisSummary> axes) {

  static final Table<FiguresView> TABLE = table();

  private static final Estimate UNCHECKED =
      Estimate.unknown("no calibration of it was checked yet");

  /**
   * @param checked its newest mark with a check; null where there is none
   */
  static FiguresView of(TrackerFigures f, TrackerNames names, Calibration checked) {
    CalibrationCheck check = checked == null ? null : checked.check().result();
    return new FiguresView(
        f.tracker(),
        names.of(f.tracker()),
        names.lotOf(f.tracker()),
        f.soaks(),
        f.soaksUsed(),
        f.newest().id(),
        f.newest().endUs(),
        !f.newest().open(),
        f.operatingC(),
        f.useC(),
        f.plateauC(),
        f.timeConstantS(),
        f.sampleRateHz(),
        f.greatestTempcoDpsPerC(),
        f.degPerMin(),
        f.minutesTo5Deg(),
        checked == null ? null : checked.atUs(),
        check == null ? null : check.verdict(),
        check == null ? UNCHECKED : check.degPerMin(),
        check == null ? UNCHECKED : check.degPerMinInUse(),
        f.axes());
  }

  private static Table<FiguresView> table() {
    Table<FiguresView> table =
        new Table<FiguresView>()
            .column("tracker", FiguresView::tracker)
            .column("name", FiguresView::name)
            .column("lot", FiguresView::lot)
            .column("soaks", FiguresView::soaks)
            .column("soaks_used", FiguresView::soaksUsed)
            .column("soak", FiguresView::soak)
            .time("as_of", FiguresView::asOfUs)
            .column("ended", FiguresView::ended)
            .column("operating_c", FiguresView::operatingC)
            .column("use_c", FiguresView::useC)
            .estimate("plateau_c", FiguresView::plateauC)
            .estimate("time_constant_s", FiguresView::timeConstantS)
            .column("sample_rate_hz", FiguresView::sampleRateHz)
            .estimate("greatest_tempco_dps_per_c", FiguresView::greatestTempcoDpsPerC)
            .estimate("deg_per_min", FiguresView::degPerMin)
            .estimate("minutes_to_5_deg", FiguresView::minutesTo5Deg)
            .time("checked", FiguresView::checkedUs)
            .column("check_verdict", FiguresView::checkVerdict)
            .estimate("check_deg_per_min", FiguresView::checkDegPerMin)
            .estimate("check_deg_per_min_in_use", FiguresView::checkDegPerMinInUse);
    for (int axis = 0; axis < 3; axis++) {
      addAxis(table, axis);
    }
    return table;
  }

  private static void addAxis(Table<FiguresView> table, int axis) {
    String of = "_" + "xyz".charAt(axis) + "_";
    table
        .estimate("bias" + of + "dps", on(axis, AxisSummary::biasDps))
        .estimate("tempco" + of + "dps_per_c", on(axis, AxisSummary::tempcoDpsPerC))
        .estimate("span" + of + "dps", on(axis, AxisSummary::spanDps))
        .estimate("settling" + of + "dps", on(axis, AxisSummary::settlingDps))
        .column("residual_sd" + of + "dps", on(axis, AxisSummary::residualSdDps))
        .estimate("turn_on" + of + "dps", on(axis, AxisSummary::turnOnDps))
        .estimate(
            "angle_random_walk" + of + "deg_per_sqrt_h",
            on(axis, AxisSummary::angleRandomWalkDegPerSqrtH))
        .estimate(
            "bias_instability" + of + "deg_per_h", on(axis, AxisSummary::biasInstabilityDegPerH))
        .estimate(
            "rate_random_walk" + of + "dps_per_sqrt_s",
            on(axis, AxisSummary::rateRandomWalkDpsPerSqrtS));
  }

  private static <T> Function<FiguresView, T> on(int axis, Function<AxisSummary, T> figure) {
    return view -> figure.apply(view.axes().get(axis));
  }
}
