package soakbench.api.readiness;

import java.util.List;
import java.util.function.ToLongFunction;
import java.util.function.UnaryOperator;
import soakbench.api.http.Table;
import soakbench.live.calibration.NewestCalibrations;
import soakbench.model.Estimate;
import soakbench.model.State;
import soakbench.readiness.Calibration;
import soakbench.readiness.Condition;
import soakbench.readiness.Heat;
import soakbench.readiness.NextStep;
import soakbench.readiness.Readiness;
import soakbench.readiness.ReadyAt;

/**
 * A verdict as it is answered, with the tracker's name beside its id and the next step that
 * follows; always with the same columns.
 */
public final class ReadinessTable {
  private static final List<String> CONDITIONS =
      List.of(
          "heard",
          "still",
          "operating_band",
          "near_use",
          "temperature_settled",
          "shift",
          "dwell",
          "not_hot");

  private static final Table<Heat> HEAT =
      new Table<Heat>()
          .member("kind", Heat::kind)
          .member("value", Heat::value)
          .member("limit", Heat::limit)
          .member("unit", Heat::unit)
          .member("reason", Heat::reason)
          .memberTime("passes_at", Heat::passesAtUs);

  private ReadinessTable() {}

  /**
   * The table.
   *
   * @param nameOf what people call a tracker, by its id
   * @param marks what was calibrated: the next step follows from it
   * @param order who is taken next
   */
  public static Table<Readiness> of(
      UnaryOperator<String> nameOf, NewestCalibrations marks, ReadinessOrder order) {
    Table<Readiness> table =
        new Table<Readiness>()
            .column("tracker", Readiness::tracker)
            .column("name", v -> nameOf.apply(v.tracker()))
            .column("soak", Readiness::soak)
            .column("state", Readiness::state)
            .time("since", Readiness::sinceUs)
            .time("as_of", Readiness::asOfUs)
            .column("before", v -> v.standing().before())
            .time("before_until", v -> v.standing().beforeUntilUs())
            .column("temperature_c", Readiness::temperatureC)
            .column("temperature_rate_c_per_min", v -> v.figures().temperatureRateCPerMin());
    table
        .eachAxis((axis, i) -> table.cell("bias_" + axis + "_dps", v -> bias(v, i)))
        .eachAxis((axis, i) -> table.estimateCells("shift_" + axis + "_dps", v -> shift(v, i)))
        .member("bias_dps", v -> v.figures().biasDps())
        .member("shift_dps", v -> v.figures().shiftDps());
    CONDITIONS.forEach(name -> table.cell(name + "_met", v -> met(v, name)));
    return table
        .member("conditions", Readiness::conditions)
        .cellTime("ready_at_expected", v -> readyAt(v, ReadyAt::expectedUs))
        .cellTime("ready_at_earliest", v -> readyAt(v, ReadyAt::earliestUs))
        .cellTime("ready_at_latest", v -> readyAt(v, ReadyAt::latestUs))
        .member("ready_at", Readiness::readyAt)
        .column("ready_at_reason", v -> v.readyTime().reason())
        .member("minutes_to_ready", ReadinessTable::minutesToReady)
        .member("unwrapped", Readiness::unwrapped)
        .column("advice", Readiness::advice)
        .member("heat", Readiness::heat, HEAT)
        .member("advice_repeats", ReadinessTable::repeated)
        .column("next_step", v -> NextStep.of(v, newest(marks, v), marks.isDone(v)))
        .cell("minutes_to_ready", ReadinessTable::minutesToReady, v -> v.readyTime().reason())
        .column("order", v -> order.of(v.tracker()))
        .member("moved_since_check", v -> NextStep.movedSinceCheck(v, newest(marks, v)))
        .member("may_be_calibrated", NextStep::mayBeCalibrated);
  }

  private static Calibration newest(NewestCalibrations marks, Readiness verdict) {
    return marks.of(verdict.tracker()).orElse(null);
  }

  private static Double bias(Readiness verdict, int axis) {
    double[] biasDps = verdict.figures().biasDps();
    return biasDps == null ? null : biasDps[axis];
  }

  private static Estimate shift(Readiness verdict, int axis) {
    List<Estimate> shifts = verdict.figures().shiftDps();
    return shifts == null || shifts.size() <= axis ? null : shifts.get(axis);
  }

  private static Boolean met(Readiness verdict, String name) {
    return verdict.conditions().stream()
        .filter(c -> c.name().equals(name))
        .findFirst()
        .map(Condition::met)
        .orElse(null);
  }

  private static Long readyAt(Readiness verdict, ToLongFunction<ReadyAt> time) {
    return verdict.readyAt() == null ? null : time.applyAsLong(verdict.readyAt());
  }

  /** From the verdict to the expected ready time; 0 where it is ready, null where there is none. */
  private static Double minutesToReady(Readiness v) {
    if (v.state() == State.READY) {
      return 0.0;
    }
    return v.readyAt() == null
        ? null
        : Math.max(0, Math.round((v.readyAt().expectedUs() - v.asOfUs()) / 6e6) / 10.0);
  }

  /** Names of the conditions whose reason the line of advice repeats. */
  private static List<String> repeated(Readiness v) {
    return v.conditions().stream()
        .filter(c -> c.reason() != null && v.advice().contains(c.reason()))
        .map(Condition::name)
        .toList();
  }
}
