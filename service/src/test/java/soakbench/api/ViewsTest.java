package soakbench.api;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.ResultSetMetaData;
import java.sql.SQLException;
import java.sql.Timestamp;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.regex.Pattern;
import org.assertj.core.data.Offset;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import soakbench.live.watch.SoakWatch;
import soakbench.store.Database;
import soakbench.store.SharedServer;
import soakbench.store.connection.Query;
import soakbench.store.server.DatabaseSettings;

/** What people read from the database itself is what the calls answer, under the same names. */
@Timeout(120)
class ViewsTest {
  private static final Path GUIDE = Path.of("..", "docs", "storage.md");
  private static final long DAY_US = 86_400_000_000L;
  private static final String ID = "VIEW-1";
  private static final String UNLISTED = "VIEW-2";

  /** What cells of a table are rounded to. */
  private static final Offset<Double> ROUNDED = within(5.1e-7);

  private static Database database;
  private static ApiServer server;
  private static Http http;
  private static Connection connection;

  @BeforeAll
  static void record() throws SQLException {
    DatabaseSettings settings = SharedServer.empty();
    database = Database.open(settings);
    SoakWatch watch = new SoakWatch(database.soakStore(), null, () -> Service.START_US);
    watch.restore();
    server =
        QuickStop.of(
            ApiServer.start(ApiSettings.local(0), watch, database, () -> Service.START_US));
    http = new Http(server.url());
    connection = SharedServer.connect(settings);
    String entry =
        "{\"name\":\"Wren\",\"lot\":\"Barley-2\",\"rack\":\"north\",\"slot\":\"N"
            + " 3\",\"rates\":\"raw\"}";
    sent(http.send("PUT", "/api/trackers/" + ID, "application/json", entry));
    post(Lines.warmUp(ID, Service.START_US - 2 * DAY_US, 900));
    post(Lines.warmUp(ID, Service.START_US - DAY_US + 300_000, 900));
    post(Lines.warmUp(ID, Service.START_US + 700_000, 90));
    post(Lines.warmUp(UNLISTED, Service.START_US - 600, 70));
    String soak = http.json("/api/soaks?tracker=" + ID, "SoakList").at("/soaks/1/soak").asText();
    String why = "{\"reason\":\"lid, \\\"open\\\"\"}";
    sent(http.send("POST", "/api/soaks/" + soak + "/leave-out", "application/json", why));
    server.derivers().deriveOutdated();
  }

  private static void post(String lines) {
    sent(http.send("POST", "/api/samples", "application/x-ndjson", lines));
  }

  private static void sent(java.net.http.HttpResponse<String> answer) {
    assertThat(answer.statusCode()).as(answer.body()).isBetween(200, 299);
  }

  @AfterAll
  static void close() throws SQLException {
    connection.close();
    server.close();
    database.close();
  }

  private static List<Map<String, Object>> rows(String sql) throws SQLException {
    return Query.list(connection, ViewsTest::row, sql);
  }

  private static Map<String, Object> row(ResultSet rows) throws SQLException {
    ResultSetMetaData columns = rows.getMetaData();
    Map<String, Object> row = new LinkedHashMap<>();
    for (int i = 1; i <= columns.getColumnCount(); i++) {
      Object value = rows.getObject(i);
      row.put(columns.getColumnLabel(i), value instanceof Timestamp t ? t.toInstant() : value);
    }
    return row;
  }

  /** Each of these members of an answer stands in the row under its name. */
  private static void assertSame(Map<String, Object> row, JsonNode answer, List<String> names) {
    for (String name : names) {
      assertThat(row).containsKey(name);
      assertEqual(name, row.get(name), answer.get(name));
    }
  }

  private static void assertEqual(String name, Object value, JsonNode answer) {
    if (value == null) {
      assertThat(answer.isNull()).as("%s: %s", name, answer).isTrue();
    } else if (value instanceof Instant time) {
      assertThat(time).as(name).isEqualTo(Instant.parse(answer.asText()));
    } else if (value instanceof Number number) {
      assertThat(number.doubleValue()).as(name).isEqualTo(answer.doubleValue());
    } else {
      assertThat(value.toString()).as(name).isEqualTo(answer.asText());
    }
  }

  @Test
  void soaksAreThoseOfTheList() throws SQLException {
    JsonNode soaks = http.json("/api/soaks", "SoakList").get("soaks");
    List<Map<String, Object>> rows = rows("SELECT * FROM v_soak ORDER BY start DESC, soak DESC");
    assertThat(rows).hasSize(soaks.size()).hasSize(4);
    for (int i = 0; i < rows.size(); i++) {
      List<String> names = new ArrayList<>();
      soaks.get(i).fieldNames().forEachRemaining(names::add);
      names.removeIf(name -> !rows.get(0).containsKey(name));
      assertThat(names).hasSizeGreaterThanOrEqualTo(10);
      assertSame(rows.get(i), soaks.get(i), names);
    }
    assertThat(rows.get(1)).containsEntry("rack", "").containsEntry("name", UNLISTED);
    assertThat(rows).anySatisfy(row -> assertThat(row).containsEntry("left_out", "lid, \"open\""));
  }

  @Test
  void statesAreThoseOfTheVerdicts() throws SQLException {
    JsonNode verdicts = http.json("/api/readiness", "ReadinessList").get("trackers");
    List<Map<String, Object>> rows = rows("SELECT * FROM v_readiness ORDER BY tracker");
    assertThat(rows).hasSize(verdicts.size()).hasSize(2);
    for (int i = 0; i < rows.size(); i++) {
      assertSame(
          rows.get(i), verdicts.get(i), List.of("tracker", "name", "soak", "state", "since"));
      // The verdict is on the second before the newest, whose end is not yet seen.
      assertThat((double) rows.get(i).get("temperature_c"))
          .isCloseTo(verdicts.get(i).get("temperature_c").asDouble(), within(0.1));
    }
    assertThat(rows.get(0)).containsEntry("rack", "north").containsEntry("slot", "N 3");
  }

  @Test
  void figuresAreThoseOfTheTrackerSoakBySoak() throws SQLException {
    JsonNode soaks = http.json("/api/trackers/" + ID + "/figures", "TrackerFigures").get("soaks");
    int known = 0;
    for (JsonNode soak : soaks) {
      List<Map<String, Object>> rows =
          rows(
              "SELECT * FROM v_figures WHERE soak = '%s' ORDER BY axis"
                  .formatted(soak.get("soak").asText()));
      assertThat(rows).hasSize(3);
      for (int axis = 0; axis < 3; axis++) {
        Map<String, Object> row = rows.get(axis);
        assertSame(row, soak, List.of("soak", "start", "end", "ended", "left_out"));
        known += figures(row, soak.get("figures"));
        known += figures(row, soak.get("figures").get("axes").get(axis));
      }
    }
    assertThat(soaks).hasSize(3);
    assertThat(known).isGreaterThan(100);
  }

  /** Returns how many numbers were the same. */
  private static int figures(Map<String, Object> row, JsonNode figures) {
    int numbers = 0;
    for (Map.Entry<String, JsonNode> figure : figures.properties()) {
      String name = figure.getKey();
      if (figure.getValue().isObject() && figure.getValue().has("value")) {
        assertEqual(name, row.get(name), figure.getValue().get("value"));
        for (String part : List.of("se", "low", "high")) {
          JsonNode there = figure.getValue().path(part);
          assertThat(row).containsKey(name + "_" + part);
          if (!there.isMissingNode()) {
            assertEqual(name + "_" + part, row.get(name + "_" + part), there);
            numbers++;
          }
        }
      } else if (row.containsKey(name)) {
        assertEqual(name, row.get(name), figure.getValue());
      }
    }
    return numbers;
  }

  @Test
  void binsAreThoseOfTheSoak() throws SQLException {
    String soak = http.json("/api/soaks?tracker=" + ID, "SoakList").at("/soaks/1/soak").asText();
    List<String> lines = http.get("/api/soaks/" + soak + "/bins.csv").body().lines().toList();
    String[] names = lines.get(0).split(",");
    List<Map<String, Object>> rows =
        rows("SELECT * FROM v_bins WHERE soak = '%s' ORDER BY time".formatted(soak));
    assertThat(rows).hasSize(lines.size() - 1).hasSizeGreaterThan(800);
    assertThat(rows.get(0).keySet()).containsAll(List.of(names)).hasSize(names.length + 2);
    for (int i = 0; i < rows.size(); i++) {
      String[] cells = lines.get(i + 1).split(",", -1);
      for (int column = 0; column < names.length; column++) {
        assertCell(names[column], rows.get(i).get(names[column]), cells[column]);
      }
    }
  }

  private static void assertCell(String name, Object value, String cell) {
    if (value instanceof Instant time) {
      assertThat(time).as(name).isEqualTo(Instant.parse(cell));
    } else if (value instanceof Number number) {
      assertThat(number.doubleValue()).as(name).isCloseTo(Double.parseDouble(cell), ROUNDED);
    } else {
      assertThat(cell).as(name).isEmpty();
    }
  }

  @Test
  void namesAndTypesStay() throws Exception {
    String columns =
        String.join(
            "\n",
            Query.list(
                connection,
                r -> r.getString(1),
                "SELECT c.relname || ' ' || a.attname || ' ' || format_type(a.atttypid, NULL)"
                    + " FROM pg_class c JOIN pg_attribute a ON a.attrelid = c.oid"
                    + " WHERE c.relkind = 'v' AND c.relname LIKE 'v\\_%' AND a.attnum > 0"
                    + " ORDER BY c.relname, a.attnum"));
    try (InputStream held = ViewsTest.class.getResourceAsStream("/reference/views.txt")) {
      assertThat(columns + "\n").isEqualTo(new String(held.readAllBytes(), StandardCharsets.UTF_8));
    }
  }

  @Test
  void eachViewAndColumnSaysWhatItIs() throws SQLException {
    assertThat(
            Query.list(
                connection,
                r -> r.getString(1),
                "SELECT c.relname || coalesce('.' || a.attname, '') FROM pg_class c"
                    + " LEFT JOIN pg_attribute a ON a.attrelid = c.oid AND a.attnum > 0"
                    + " WHERE c.relkind = 'v' AND c.relname LIKE 'v\\_%'"
                    + " AND (col_description(c.oid, a.attnum) IS NULL"
                    + " OR obj_description(c.oid) IS NULL)"))
        .isEmpty();
  }

  @Test
  void theQueriesOfTheGuideAnswer() throws IOException, SQLException {
    List<String> queries =
        Pattern.compile("```sql\n(.*?)```", Pattern.DOTALL)
            .matcher(Files.readString(GUIDE))
            .results()
            .map(found -> found.group(1))
            .toList();
    assertThat(queries).hasSize(3);
    for (String query : queries) {
      assertThat(rows(query)).as(query).isNotEmpty();
    }
  }
}
