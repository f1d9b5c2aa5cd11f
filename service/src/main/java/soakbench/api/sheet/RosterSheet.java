package soakbench.api.sheet;

import java.util.Comparator;
import java.util.Optional;
import soakbench.api.http.Table;
import soakbench.api.http.TrackerNames;
import soakbench.api.roster.TrackerTable;
import soakbench.model.Tracker;

/** The roster for spreadsheets; of a tracker that is not listed its id and defaults. */
public final class RosterSheet {
  private RosterSheet() {}

  public static SheetSource<Tracker> source(TrackerNames names) {
    Table<Tracker> table = new Table<Tracker>().cell("tracker", Tracker::id);
    TrackerTable.TABLE.columns().stream()
        .filter(column -> !column.name().equals("id"))
        .forEach(column -> table.cell(column.name(), column.of()));
    return new SheetSource<>(
        "trackers",
        table,
        which ->
            names.all().stream()
                .filter(t -> which.has(t.lot(), t.rack()))
                .sorted(Comparator.comparing(Tracker::id))
                .toList(),
        id -> Optional.of(names.entryOf(id)));
  }
}
