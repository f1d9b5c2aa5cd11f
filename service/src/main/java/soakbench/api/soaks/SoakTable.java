package soakbench.api.soaks;

import soakbench.api.http.Table;
import soakbench.api.http.TrackerNames;
import soakbench.model.Soak;

/** A soak as it is answered, with its tracker's name and lot. */
final class SoakTable {
  private SoakTable() {}

  static Table<Soak> of(TrackerNames names) {
    return new Table<Soak>()
        .column("soak", Soak::id)
        .column("tracker", Soak::tracker)
        .column("name", s -> names.of(s.tracker()))
        .column("lot", s -> names.lotOf(s.tracker()))
        .time("start", Soak::startUs)
        .time("end", Soak::endUs)
        .column("samples", Soak::samples)
        .column("ended", Soak::ended)
        .column("samples_kept", Soak::samplesKept);
  }
}
