package soakbench.api.readiness;

import java.util.List;
import java.util.function.ToLongFunction;
import soakbench.api.http.Table;
import soakbench.model.Axes;
import soakbench.model.Estimate;
import soakbench.readiness.Condition;
import soakbench.readiness.ReadyAt;

/** The verdicts as a table: one row a tracker, the same columns whatever is known. */
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

  public static final Table<ReadinessView> TABLE = build();

  private ReadinessTable() {}

  private static Table<ReadinessView> build() {
    Table<ReadinessView> table =
        new Table<ReadinessView>()
            .column("tracker", ReadinessView::tracker)
            .column("name", ReadinessView::name)
            .column("soak", ReadinessView::soak)
            .column("state", ReadinessView::state)
            .time("since", ReadinessView::sinceUs)
            .time("as_of", ReadinessView::asOfUs)
            .column("before", ReadinessView::before)
            .time("before_until", ReadinessView::beforeUntilUs)
            .column("temperature_c", ReadinessView::temperatureC)
            .column("temperature_rate_c_per_min", ReadinessView::temperatureRateCPerMin);
    for (int i = 0; i < Axes.NAMES.size(); i++) {
      int axis = i;
      table.column("bias_" + Axes.NAMES.get(i) + "_dps", v -> bias(v, axis));
    }
    for (int i = 0; i < Axes.NAMES.size(); i++) {
      int axis = i;
      table.estimate("shift_" + Axes.NAMES.get(i) + "_dps", v -> shift(v, axis));
    }
    CONDITIONS.forEach(name -> table.column(name + "_met", v -> met(v, name)));
    return table
        .time("ready_at_expected", v -> readyAt(v, ReadyAt::expectedUs))
        .time("ready_at_earliest", v -> readyAt(v, ReadyAt::earliestUs))
        .time("ready_at_latest", v -> readyAt(v, ReadyAt::latestUs))
        .column("ready_at_reason", ReadinessView::readyAtReason)
        .column("advice", ReadinessView::advice)
        .column("next_step", ReadinessView::nextStep)
        .column("minutes_to_ready", ReadinessView::minutesToReady);
  }

  private static Double bias(ReadinessView verdict, int axis) {
    return verdict.biasDps() == null ? null : verdict.biasDps()[axis];
  }

  private static Estimate shift(ReadinessView verdict, int axis) {
    List<Estimate> shifts = verdict.shiftDps();
    return shifts == null || shifts.size() <= axis ? null : shifts.get(axis);
  }

  private static Boolean met(ReadinessView verdict, String name) {
    return verdict.conditions().stream()
        .filter(c -> c.name().equals(name))
        .findFirst()
        .map(Condition::met)
        .orElse(null);
  }

  private static Long readyAt(ReadinessView verdict, ToLongFunction<ReadyAt> time) {
    return verdict.readyAt() == null ? null : time.applyAsLong(verdict.readyAt());
  }
}
