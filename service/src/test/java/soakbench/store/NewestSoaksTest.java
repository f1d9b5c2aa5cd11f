package soakbench.store;

import static org.assertj.core.api.Assertions.assertThat;

import java.sql.Connection;
import java.sql.Statement;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import soakbench.model.Soak;
import soakbench.store.connection.Query;
import soakbench.store.rows.Soaks;
import soakbench.store.server.DatabaseSettings;

/** What a service that only reads asks every second costs no more for all soaks of the past. */
@Timeout(120)
class NewestSoaksTest {
  private static final String SOAKS =
      "INSERT INTO soak (id, tracker, start_time, end_time, samples, ended)"
          + " SELECT 's' || i, 'T-' || i % 40, '2026-01-01'::timestamptz + i * interval '1 hour',"
          + " '2026-01-01'::timestamptz + i * interval '1 hour', 1,"
          + " CASE WHEN i % 997 = 3 THEN NULL ELSE 'silence' END FROM generate_series(1, 8000) i";

  private static final String BY_SORTING =
      "SELECT DISTINCT ON (tracker) "
          + Soaks.COLUMNS
          + " FROM soak ORDER BY tracker, ended IS NULL DESC, start_time DESC, id DESC";

  @Test
  void theyAreFoundByAnIndexAlone() throws Exception {
    DatabaseSettings settings = SharedServer.empty();
    try (Database database = Database.open(settings);
        Connection connection = SharedServer.connect(settings);
        Statement statement = connection.createStatement()) {
      assertThat(database.mayWrite()).isTrue();
      assertThat(Soaks.last(connection)).isEmpty();
      statement.execute(SOAKS);
      statement.execute("ANALYZE soak");
      List<Soak> last = Soaks.last(connection);
      assertThat(last)
          .hasSize(40)
          .containsExactlyElementsOf(Query.list(connection, Soaks::read, BY_SORTING));
      assertThat(last.stream().filter(Soak::open)).isNotEmpty();
      String plan =
          String.join(
              "\n",
              Query.list(connection, rows -> rows.getString(1), "EXPLAIN (ANALYZE) " + Soaks.LAST));
      assertThat(plan).as(plan).contains("soak_newest").doesNotContain("Seq Scan on soak");
    }
  }
}
