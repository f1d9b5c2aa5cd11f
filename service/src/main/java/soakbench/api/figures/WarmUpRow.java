package soakbench.api.figures;

import java.util.List;
import java.util.stream.Collectors;
import soakbench.api.http.Table;
import soakbench.api.http.Times;
import soakbench.model.Estimate;
import soakbench.thermal.WarmUpCurve;

/** A warm-up curve as the one row of a table: its figures beside each other, without the course. */
record WarmUpRow(String soak, WarmUpCurve curve) {
  static final Table<WarmUpRow> TABLE =
      new Table<WarmUpRow>()
          .cell("soak", WarmUpRow::soak)
          .estimateCells("plateau_c", r -> r.curve.plateauC())
          .estimateCells("start_c", r -> r.curve.startC())
          .estimateCells("time_constant_s", WarmUpRow::bodyS)
          .estimateCells("fast_time_constant_s", WarmUpRow::fastS)
          .cell("prior_only", r -> r.curve.priorOnly())
          .cellTime("from", r -> r.curve.basis().fromUs())
          .cellTime("to", r -> r.curve.basis().toUs())
          .cell("residual_sd_c", r -> r.curve.basis().residualSdC())
          .cell("breaks", WarmUpRow::breaks)
          .cell("reason", r -> r.curve.reason());

  /** The body's is the slowest. */
  private Estimate bodyS() {
    List<Estimate> all = curve.timeConstantsS();
    return all.isEmpty() ? Estimate.unknown(curve.reason()) : all.get(all.size() - 1);
  }

  /** That of what warms before the body does, where the soak shows one: there are two at most. */
  private Estimate fastS() {
    List<Estimate> all = curve.timeConstantsS();
    return all.size() < 2 ? Estimate.unknown(curve.reason()) : all.get(0);
  }

  private String breaks() {
    return curve.breaksUs().stream().map(Times::text).collect(Collectors.joining(" "));
  }
}
