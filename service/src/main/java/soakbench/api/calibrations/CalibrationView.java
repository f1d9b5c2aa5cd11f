package soakbench.api.calibrations;

import java.util.List;
import java.util.function.Function;
import soakbench.api.http.Json;
import soakbench.api.http.Table;
import soakbench.drift.calibration.CalibrationSeen;
import soakbench.model.Estimate;
import soakbench.model.State;
import soakbench.readiness.Calibration;
import soakbench.readiness.CalibrationCheck;

/**
 * A calibration mark as it is answered.
 *
 * @param liftedUs when it was lifted; null while that is not known
 * @param laidUs when it lay still again
 * @param openS from lifting to lying still again, s
 * @param faces different faces that it lay on; 0 without an accelerometer
 * @param temperatureC before lifting, degC
 * @param temperatureSpreadC greatest less least over the poses, degC
 * @param biasDps before lifting, deg/s, x y z
 */
public record CalibrationView(
    String tracker,
    String name,
    long atUs,
    String soak,
    Calibration.Origin origin,
    Calibration.Status status,
    State stateBefore,
    Long liftedUs,
    Long laidUs,
    Long openS,
    int faces,
    boolean rebooted,
    Double temperatureC,
    Double temperatureSpreadC,
    double[] biasDps,
    Check check,
    String checkReason) {

  /**
   * The check of a mark.
   *
   * @param limitDegPerMin more than this is no good calibration, deg/min
   * @param why the reason without what to do otherwise
   * @param how what to do otherwise the next time; null where it need not be done again
   */
  public record Check(
      long fromUs,
      long toUs,
      String rates,
      double useTemperatureC,
      List<Estimate> residualDps,
      double limitDegPerMin,
      Estimate degPerMin,
      Estimate degPerMinInUse,
      CalibrationCheck.Verdict verdict,
      String reason,
      String why,
      String how) {
    static Check of(Calibration.Check c) {
      CalibrationCheck r = c.result();
      return new Check(
          c.fromUs(),
          c.toUs(),
          Json.word(c.rates()),
          c.useTemperatureC(),
          r.residualDps(),
          CalibrationCheck.LIMIT_DEG_PER_MIN,
          r.degPerMin(),
          r.degPerMinInUse(),
          r.verdict(),
          r.reason(),
          r.why(),
          r.how());
    }
  }

  static final Table<CalibrationView> TABLE = table();

  /** The mark of a tracker of this name. */
  public static CalibrationView of(Calibration c, String name) {
    CalibrationSeen h = c.handling();
    return new CalibrationView(
        c.tracker(),
        name,
        c.atUs(),
        c.soak(),
        c.origin(),
        c.status(),
        c.stateBefore(),
        h == null ? null : h.atSecond() * 1_000_000L,
        h == null ? null : h.restSecond() * 1_000_000L,
        h == null ? null : h.openS(),
        h == null ? 0 : h.faces(),
        h != null && h.rebooted(),
        h == null ? null : known(h.temperatureC()),
        h == null ? null : known(h.temperatureSpreadC()),
        h == null ? null : h.biasDps(),
        c.check() == null ? null : Check.of(c.check()),
        c.checkReason());
  }

  private static Double known(double value) {
    return Double.isNaN(value) ? null : value;
  }

  private static Table<CalibrationView> table() {
    Table<CalibrationView> table =
        new Table<CalibrationView>()
            .column("tracker", CalibrationView::tracker)
            .column("name", CalibrationView::name)
            .time("at", CalibrationView::atUs)
            .column("soak", CalibrationView::soak)
            .column("origin", CalibrationView::origin)
            .column("status", CalibrationView::status)
            .column("state_before", CalibrationView::stateBefore)
            .time("lifted", CalibrationView::liftedUs)
            .time("laid", CalibrationView::laidUs)
            .column("open_s", CalibrationView::openS)
            .column("faces", CalibrationView::faces)
            .column("rebooted", CalibrationView::rebooted)
            .column("temperature_c", CalibrationView::temperatureC)
            .column("temperature_spread_c", CalibrationView::temperatureSpreadC);
    for (int i = 0; i < 3; i++) {
      int axis = i;
      table.column(
          "bias_" + "xyz".charAt(i) + "_dps", v -> v.biasDps() == null ? null : v.biasDps()[axis]);
    }
    table.column("check_verdict", of(Check::verdict)).column("check_rates", of(Check::rates));
    for (int i = 0; i < 3; i++) {
      int axis = i;
      table.estimate("residual_" + "xyz".charAt(i) + "_dps", of(c -> c.residualDps().get(axis)));
    }
    return table
        .estimate("deg_per_min", of(Check::degPerMin))
        .estimate("deg_per_min_in_use", of(Check::degPerMinInUse))
        .column("use_temperature_c", of(Check::useTemperatureC))
        .column("check_reason", v -> v.check() == null ? v.checkReason() : v.check().reason());
  }

  private static <T> Function<CalibrationView, T> of(Function<Check, T> figure) {
    return view -> view.check() == null ? null : figure.apply(view.check());
  }
}
