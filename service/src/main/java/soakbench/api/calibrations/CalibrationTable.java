package soakbench.api.calibrations;

import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.databind.JsonSerializer;
import com.fasterxml.jackson.databind.SerializerProvider;
import java.io.IOException;
import java.util.function.Function;
import java.util.function.UnaryOperator;
import soakbench.api.http.Table;
import soakbench.drift.calibration.HandlingSeen;
import soakbench.readiness.Calibration;
import soakbench.readiness.Calibration.Check;
import soakbench.readiness.CalibrationCheck;

/** A calibration mark as it is answered, with its tracker's name. */
public final class CalibrationTable {
  private static final Table<Check> CHECK =
      new Table<Check>()
          .memberTime("from", Check::fromUs)
          .memberTime("to", Check::toUs)
          .member("rates", Check::rates)
          .member("use_c", Check::useTemperatureC)
          .member("residual_dps", c -> c.result().residualDps())
          .member("limit_deg_per_min", c -> CalibrationCheck.LIMIT_DEG_PER_MIN)
          .member("deg_per_min", c -> c.result().degPerMin())
          .member("deg_per_min_in_use", c -> c.result().degPerMinInUse())
          .member("verdict", c -> c.result().verdict())
          .member("verdict_now", c -> c.result().verdictNow())
          .member("reason", c -> c.result().reason())
          .member("why", c -> c.result().why())
          .member("how", c -> c.result().how());

  private CalibrationTable() {}

  /** A mark where no roster names its tracker: its id stands for the name. */
  public static final class Unnamed extends JsonSerializer<Calibration> {
    private static final Table<Calibration> TABLE = of(id -> id);

    @Override
    public void serialize(Calibration mark, JsonGenerator json, SerializerProvider provider)
        throws IOException {
      provider.defaultSerializeValue(TABLE.json(mark), json);
    }
  }

  /**
   * The table.
   *
   * @param nameOf what people call a tracker, by its id
   */
  public static Table<Calibration> of(UnaryOperator<String> nameOf) {
    Table<Calibration> table =
        new Table<Calibration>()
            .column("tracker", Calibration::tracker)
            .column("name", c -> nameOf.apply(c.tracker()))
            .time("at", Calibration::atUs)
            .column("soak", Calibration::soak)
            .column("origin", Calibration::origin)
            .column("status", Calibration::status)
            .column("state_before", Calibration::stateBefore)
            .time("lifted", seen(h -> h.atSecond() * 1_000_000L))
            .time("laid", seen(h -> h.restSecond() * 1_000_000L))
            .column("open_s", seen(HandlingSeen::openS))
            .column("faces", c -> c.handling() == null ? 0 : c.handling().faces())
            .column("rebooted", c -> c.handling() != null && c.handling().rebooted())
            .column("temperature_c", seen(HandlingSeen::temperatureC))
            .column("temperature_spread_c", seen(HandlingSeen::temperatureSpreadC))
            .member("bias_dps", seen(HandlingSeen::biasDps))
            .member("check", Calibration::check, CHECK)
            .member("check_reason", Calibration::checkReason);
    return table
        .eachAxis((axis, i) -> table.cell("bias_" + axis + "_dps", seen(h -> h.biasDps()[i])))
        .cell("check_verdict", found(CalibrationCheck::verdict))
        .cell("check_rates", checked(Check::rates))
        .eachAxis(
            (axis, i) ->
                table.estimateCells(
                    "residual_" + axis + "_dps", found(r -> r.residualDps().get(i))))
        .estimateCells("deg_per_min", found(CalibrationCheck::degPerMin))
        .estimateCells("deg_per_min_in_use", found(CalibrationCheck::degPerMinInUse))
        .cell("use_c", checked(Check::useTemperatureC))
        .cell(
            "check_reason", c -> c.check() == null ? c.checkReason() : c.check().result().reason());
  }

  /** Of what was seen of it; null while that is not known. */
  private static <T> Function<Calibration, T> seen(Function<HandlingSeen, T> part) {
    return c -> c.handling() == null ? null : part.apply(c.handling());
  }

  /** Of its check; null where there is none. */
  private static <T> Function<Calibration, T> checked(Function<Check, T> part) {
    return c -> c.check() == null ? null : part.apply(c.check());
  }

  private static <T> Function<Calibration, T> found(Function<CalibrationCheck, T> part) {
    return checked(check -> part.apply(check.result()));
  }
}
