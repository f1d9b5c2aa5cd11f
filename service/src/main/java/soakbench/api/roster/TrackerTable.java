package soakbench.api.roster;

import soakbench.api.http.Table;
import soakbench.model.Tracker;

/** The roster as a table, which can be sent back as it is. */
public final class TrackerTable {
  public static final Table<Tracker> TABLE =
      new Table<Tracker>()
          .column("id", Tracker::id)
          .column("name", Tracker::name)
          .column("lot", Tracker::lot)
          .column("imu", Tracker::imu)
          .column("board", Tracker::board)
          .column("rack", Tracker::rack)
          .column("slot", Tracker::slot)
          .column("power", Tracker::power)
          .column("rates", Tracker::rates)
          .column("temperature_offset_c", Tracker::temperatureOffsetC)
          .column("note", Tracker::note);

  private TrackerTable() {}
}
