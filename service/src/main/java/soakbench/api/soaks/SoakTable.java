package soakbench.api.soaks;

import java.util.function.Function;
import soakbench.api.http.Table;
import soakbench.api.http.TrackerNames;
import soakbench.model.Soak;

/** A soak as it is answered, with its tracker's name and lot. */
public final class SoakTable {
  private SoakTable() {}

  /**
   * A soak.
   *
   * @param leftOut why people left it out of the figures; null where it counts
   */
  public record Row(Soak soak, String leftOut) {
    private static <T> Function<Row, T> of(Function<Soak, T> part) {
      return row -> part.apply(row.soak);
    }
  }

  /** The table. */
  public static Table<Row> of(TrackerNames names) {
    return new Table<Row>()
        .column("soak", Row.of(Soak::id))
        .column("tracker", Row.of(Soak::tracker))
        .column("name", Row.of(s -> names.of(s.tracker())))
        .column("lot", Row.of(s -> names.lotOf(s.tracker())))
        .time("start", Row.of(Soak::startUs))
        .time("end", Row.of(Soak::endUs))
        .column("samples", Row.of(Soak::samples))
        .column("ended", Row.of(Soak::ended))
        .column("samples_kept", Row.of(Soak::samplesKept))
        .column("left_out", Row::leftOut);
  }
}
