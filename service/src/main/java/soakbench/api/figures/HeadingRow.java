package soakbench.api.figures;

import java.util.List;
import soakbench.api.http.Table;
import soakbench.drift.heading.Heading;
import soakbench.model.Estimate;

/** What a calibration costs in use, as the one row of a table. */
record HeadingRow(String soak, Heading heading) {
  static final Table<HeadingRow> TABLE = table();

  private static Table<HeadingRow> table() {
    Table<HeadingRow> table =
        new Table<HeadingRow>()
            .cell("soak", HeadingRow::soak)
            .cell("calibrated_c", r -> r.heading.asked().calibratedC())
            .cell("use_c", r -> r.heading.asked().useC())
            .cell("profile", r -> r.heading.asked().profile())
            .estimateCells("deg_per_min", r -> r.heading.degPerMin())
            .estimateCells("minutes_to_5_deg", r -> r.heading.minutesTo5Deg());
    return table
        .eachAxis((axis, i) -> table.estimateCells(axis + "_deg_per_min", r -> r.axis(i)))
        .cell("earth_deg_per_min", r -> r.heading.earthDegPerMin())
        .cell("reason", r -> r.heading.degPerMin().reason())
        .cell("note", r -> r.heading.note());
  }

  /** Without a curve there is no rate of any. */
  private Estimate axis(int i) {
    List<Heading.Axis> axes = heading.axes();
    return axes.isEmpty()
        ? Estimate.unknown(heading.degPerMin().reason())
        : axes.get(i).degPerMin();
  }
}
