package soakbench.store.derived;

import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.stream.Collectors;
import soakbench.live.SoakSummary;
import soakbench.live.figures.SummaryKeeper;
import soakbench.model.Bench;
import soakbench.model.Estimate;
import soakbench.model.Soak;
import soakbench.readiness.RecordedCooling;
import soakbench.store.connection.Query;
import soakbench.store.rows.Soaks;
import soakbench.store.rows.Times;

/** Table {@code soak_figures}. */
public final class SummaryRows {
  private SummaryRows() {}

  /** What the column holds; the rest is the soak's own row. */
  record Figures(Estimate plateauC, List<Estimate> timeConstantsS, List<RecordedCooling> coolings) {
    Figures {
      Objects.requireNonNull(plateauC, "plateauC");
      timeConstantsS = List.copyOf(timeConstantsS);
      coolings = List.copyOf(coolings);
    }
  }

  public static int write(Connection connection, SoakSummary summary) throws SQLException {
    return Query.change(
        connection,
        "INSERT INTO soak_figures (soak, version, figures) VALUES (?, ?, ?::jsonb)"
            + " ON CONFLICT (soak) DO UPDATE SET version = EXCLUDED.version,"
            + " figures = EXCLUDED.figures",
        summary.soak(),
        SummaryKeeper.VERSION,
        text(summary));
  }

  /** Replaces it while the soak is as it was; returns how many rows were replaced. */
  static int replace(Connection connection, Soak was, int version, SoakSummary summary)
      throws SQLException {
    return Query.change(
        connection,
        "UPDATE soak_figures SET version = ?, figures = ?::jsonb WHERE soak ="
            + " (SELECT id FROM soak WHERE id = ? AND end_time = ? AND samples = ?)",
        version,
        text(summary),
        was.id(),
        Times.time(was.endUs()),
        was.samples());
  }

  /** Those that can be read; the notes hear of the others. */
  public static List<SoakSummary> newest(Connection connection, int most, DueNotes notes)
      throws SQLException {
    JsonColumn<Figures> column =
        new JsonColumn<>(Figures.class, "figures for soaks after it", notes);
    return Query.list(
            connection,
            rows -> read(rows, column),
            "SELECT "
                + Soaks.COLUMNS
                + ", figures FROM (SELECT s.*, f.figures, row_number() OVER"
                + " (PARTITION BY s.tracker ORDER BY s.end_time DESC, s.id DESC) AS nth"
                + " FROM soak_figures f JOIN soak s ON s.id = f.soak) newest"
                + " WHERE nth <= ? ORDER BY id",
            most)
        .stream()
        .flatMap(Optional::stream)
        .toList();
  }

  public static Map<String, Bench> benches(Connection connection) throws SQLException {
    return Query.list(
            connection,
            rows -> Map.entry(rows.getString(1), new Bench(rows.getString(2), rows.getString(3))),
            "SELECT id, rack, lot FROM tracker")
        .stream()
        .collect(Collectors.toUnmodifiableMap(Map.Entry::getKey, Map.Entry::getValue));
  }

  private static Optional<SoakSummary> read(ResultSet rows, JsonColumn<Figures> column)
      throws SQLException {
    Soak soak = Soaks.read(rows);
    return column.read(soak.id(), rows.getString("figures")).map(f -> summary(f, soak));
  }

  private static SoakSummary summary(Figures f, Soak soak) {
    return new SoakSummary(
            soak.id(), soak.tracker(), soak.endUs(), true, f.plateauC, f.timeConstantsS, f.coolings)
        .of(soak);
  }

  private static String text(SoakSummary summary) {
    return JsonColumn.text(
        new Figures(summary.plateauC(), summary.timeConstantsS(), summary.coolings()));
  }
}
