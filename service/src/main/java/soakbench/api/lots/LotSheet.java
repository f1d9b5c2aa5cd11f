package soakbench.api.lots;

import java.time.ZoneId;
import java.util.List;
import java.util.function.Supplier;
import soakbench.api.http.Table;
import soakbench.api.http.TrackerFilter;
import soakbench.api.http.TrackerNames;
import soakbench.lots.compare.LotLimits;
import soakbench.lots.compare.LotSummary;
import soakbench.model.Limits;
import soakbench.store.Database;

/** What all lots come to, for a sheet of its own. */
public final class LotSheet {
  private final LotSource source;
  private final Supplier<LotLimits> limits;

  /**
   * @param limits what counts as ready, as that stands now
   */
  public LotSheet(Database database, TrackerNames names, Supplier<Limits> limits) {
    this.source = new LotSource(database, names, ZoneId.systemDefault());
    this.limits = () -> LotLimits.of(limits.get(), database.screeningLimits().all());
  }

  /** How they are answered. */
  public Table<LotRow> table() {
    return LotRow.TABLE;
  }

  /** A row for each figure of each lot that passes a filter. */
  public List<LotRow> rows(TrackerFilter which) {
    LotLimits now = limits.get();
    return LotRow.of(source.all(which, null).stream().map(lot -> LotSummary.of(lot, now)).toList());
  }
}
