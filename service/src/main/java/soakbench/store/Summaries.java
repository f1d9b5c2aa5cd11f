package soakbench.store;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import soakbench.live.SoakSummary;
import soakbench.model.Bench;
import soakbench.model.Estimate;
import soakbench.model.Soak;
import soakbench.readiness.RecordedCooling;

/** Table {@code soak_figures}. */
final class Summaries {
  private static final ObjectMapper MAPPER = new ObjectMapper();

  private Summaries() {}

  /** What the column holds; the rest is the soak's own row. */
  private record Figures(
      Estimate plateauC, List<Estimate> timeConstantsS, List<RecordedCooling> coolings) {}

  static int write(Connection connection, SoakSummary summary) throws SQLException {
    Figures figures = new Figures(summary.plateauC(), summary.timeConstantsS(), summary.coolings());
    return Query.change(
        connection,
        "INSERT INTO soak_figures (soak, figures) VALUES (?, ?::jsonb)"
            + " ON CONFLICT (soak) DO UPDATE SET figures = EXCLUDED.figures",
        summary.soak(),
        text(figures));
  }

  static List<SoakSummary> newest(Connection connection, int most) throws SQLException {
    return Query.list(
        connection,
        Summaries::read,
        "SELECT "
            + Soaks.COLUMNS
            + ", figures FROM (SELECT s.*, f.figures, row_number() OVER"
            + " (PARTITION BY s.tracker ORDER BY s.end_time DESC, s.id DESC) AS nth"
            + " FROM soak_figures f JOIN soak s ON s.id = f.soak) newest"
            + " WHERE nth <= ? ORDER BY id",
        most);
  }

  static Map<String, Bench> benches(Connection connection) throws SQLException {
    return Query.list(
            connection,
            rows -> Map.entry(rows.getString(1), new Bench(rows.getString(2), rows.getString(3))),
            "SELECT id, rack, lot FROM tracker")
        .stream()
        .collect(Collectors.toUnmodifiableMap(Map.Entry::getKey, Map.Entry::getValue));
  }

  private static SoakSummary read(ResultSet rows) throws SQLException {
    Soak soak = Soaks.read(rows);
    Figures f = figures(soak.id(), rows.getString("figures"));
    return new SoakSummary(
            soak.id(), soak.tracker(), soak.endUs(), true, f.plateauC, f.timeConstantsS, f.coolings)
        .of(soak);
  }

  private static String text(Figures figures) {
    try {
      return MAPPER.writeValueAsString(figures);
    } catch (JsonProcessingException e) {
      throw new IllegalArgumentException("figures that JSON can't hold: " + figures, e);
    }
  }

  /**
   * @throws IllegalArgumentException if somebody changed the column by hand and it holds none
   */
  private static Figures figures(String soak, String text) {
    try {
      return MAPPER.readValue(text, Figures.class);
    } catch (JsonProcessingException e) {
      throw new IllegalArgumentException("stored figures of " + soak + " can't be read", e);
    }
  }
}
