package soakbench.api.sheet;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import de.siegmar.fastcsv.reader.CsvReader;
import de.siegmar.fastcsv.reader.NamedCsvRecord;
import java.net.http.HttpResponse;
import java.time.Duration;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import soakbench.api.ApiServer;
import soakbench.api.ApiSettings;
import soakbench.api.Http;
import soakbench.api.Lines;
import soakbench.api.QuickStop;
import soakbench.api.Service;
import soakbench.api.access.AccessLimits;
import soakbench.api.access.AccessSettings;
import soakbench.api.access.AccessToken;
import soakbench.live.watch.SoakWatch;
import soakbench.model.Limits;
import soakbench.store.Database;
import soakbench.store.SharedServer;

/** Single figures, as the cells of a spreadsheet ask for them. */
class CellTest {
  private static final String ID = "W-31";
  private static final String CELL = "/sheet/cell/" + ID + "/";

  private static Database database;
  private static SoakWatch watch;
  private static ApiServer server;
  private static Http http;

  @BeforeAll
  static void record() {
    database = Database.open(SharedServer.empty());
    watch = new SoakWatch(database.soakStore(), Limits.DEFAULT, () -> Service.START_US);
    watch.restore();
    server = serve(AccessSettings.OPEN);
    http = new Http(server.url());
    put("id,name,lot,rack\nW-31,\"Kestrel, left\",K14,north\nW-32,=1+1,K14,north\nW-40,,K15,\n");
    String lines =
        Lines.warmUp(ID, Service.START_US, 1500, 2) + Lines.steady("W-9", Service.START_US, 50);
    http.send("POST", "/api/samples", "application/x-ndjson", lines);
    while (server.derivers().figures().deriveOutdated() > 0) {}
  }

  private static ApiServer serve(AccessSettings access) {
    return QuickStop.of(
        ApiServer.start(
            ApiSettings.local(0).withAccess(access), watch, database, () -> Service.START_US));
  }

  private static void put(String roster) {
    Http.json(http.send("PUT", "/api/trackers", "text/csv", roster), "RosterChanges");
  }

  @AfterAll
  static void stop() {
    server.close();
    database.close();
  }

  private static String cell(String path) {
    HttpResponse<String> answer = http.get(path);
    assertThat(answer.statusCode()).as(path + ": " + answer.body()).isEqualTo(200);
    assertThat(answer.headers().firstValue("Content-Type")).hasValue("text/plain;charset=utf-8");
    assertThat(answer.headers().firstValue("Cache-Control")).hasValue("no-store");
    return answer.body();
  }

  private static String refused(String path, int status) {
    HttpResponse<String> answer = http.get(path, "Accept", "text/html");
    assertThat(answer.statusCode()).as(path + ": " + answer.body()).isEqualTo(status);
    assertThat(answer.headers().firstValue("Content-Type")).hasValue("text/plain;charset=utf-8");
    assertThat(answer.body()).startsWith("error: ").doesNotContain("\n", "<", "{");
    return answer.body();
  }

  @Test
  void aCellIsOneNumberOrWordAndNothingElse() {
    assertThat(cell(CELL + "state")).isIn("warming", "soaking", "ready");
    assertThat(cell(CELL + "temperature_c")).matches("3[01]\\.\\d{5,}");
    assertThat(cell(CELL + "temperature_c?decimal=comma")).matches("3[01],\\d{5,}");
    assertThat(cell(CELL + "tempco_x_dps_per_c")).startsWith("0.0");
    assertThat(cell(CELL + "as_of")).isEqualTo("2026-03-01T08:24:57Z");
    assertThat(cell(CELL + "as_of?dates=local&zone=Europe/Berlin"))
        .isEqualTo("2026-03-01 09:24:57");
    assertThat(cell(CELL + "still_met")).isEqualTo("true");
    assertThat(cell(CELL + "still_met?truth=number&t=17")).isEqualTo("1");
    assertThat(cell(CELL + "lot")).isEqualTo("K14");
  }

  @ParameterizedTest
  @CsvSource({
    "/api/readiness.csv, readiness, tracker",
    "/api/figures.csv, figures, tracker",
    "/api/trackers.csv, trackers, id"
  })
  void figuresHaveTheNamesAndTheTextOfTheTablesColumns(String table, String name, String id) {
    List<NamedCsvRecord> rows =
        CsvReader.builder().ofNamedCsvRecord(http.get(table).body()).stream().toList();
    NamedCsvRecord row =
        rows.stream().filter(r -> r.getField(id).equals(ID)).findFirst().orElseThrow();
    List<String> columns = row.getHeader().stream().filter(c -> !c.equals("id")).toList();
    String figures = columns.stream().map(c -> name + "." + c).collect(Collectors.joining(","));
    String line = cell("/sheet/cells?trackers=" + ID + "&figures=" + figures);
    assertThat(CsvReader.builder().ofCsvRecord(line).stream().toList().get(0).getFields())
        .isEqualTo(columns.stream().map(row::getField).toList());
  }

  @Test
  void ofANameThatTwoTablesHaveTheOneOfNowIsMeantAndTheOtherIsNamedWithItsTable() {
    assertThat(cell(CELL + "bias_x_dps")).isEqualTo(cell(CELL + "readiness.bias_x_dps"));
    assertThat(cell(CELL + "figures.bias_x_dps")).isNotEqualTo(cell(CELL + "bias_x_dps"));
  }

  @Test
  void whatIsNotKnownIsEmptyOrTheWordThatWasAskedForOrTheReason() {
    String never = CELL + "check_deg_per_min";
    assertThat(cell(never)).isEmpty();
    assertThat(cell(never + "?unknown=-")).isEqualTo("-");
    assertThat(cell(never + "?unknown=reason")).isEqualTo("no calibration of it was checked yet");
    assertThat(cell("/sheet/cell/W-32/state?unknown=reason")).contains("no row in readiness now");
    assertThat(cell("/sheet/cell/W-32/state?unknown=off")).isEqualTo("off");
    assertThat(refused(CELL + "state?unknown=" + "x".repeat(41), 400)).contains("40");
  }

  @Test
  void textThatLooksLikeAFormulaIsKeptFromRunning() {
    assertThat(cell("/sheet/cell/W-32/name")).isEqualTo("'=1+1");
    assertThat(cell("/sheet/cells?trackers=W-32&figures=name")).isEqualTo("'=1+1");
  }

  @Test
  void anErrorIsOneLineOfTextWithItsStatusOrByChoiceWithout() {
    assertThat(refused(CELL + "temprature_c", 400)).contains("did you mean \"temperature_c\"?");
    assertThat(refused("/sheet/cell/W-99/state", 404))
        .isEqualTo("error: There is no tracker W-99.");
    assertThat(refused("/sheet/cell/W-31", 404)).contains("Nothing is served");
    assertThat(refused(CELL + "state?onerro=text", 400)).contains("onerror");
    assertThat(refused(CELL + "state?onerror=page", 400)).contains("text or status");
    assertThat(cell("/sheet/cell/W-99/state?onerror=text"))
        .startsWith("error: There is no tracker");
    assertThat(cell(CELL + "nonsense?onerror=text")).startsWith("error: There is no figure");
  }

  @Test
  void whoIsNotLetInGetsAWordAndNoPage() {
    try (ApiServer closed =
        serve(
            AccessSettings.OPEN
                .withToken(new AccessToken("f".repeat(32)))
                .withOpenReading(false))) {
      HttpResponse<String> answer =
          new Http(closed.url()).get(CELL + "state", "Accept", "text/html");
      assertThat(answer.statusCode()).isEqualTo(401);
      assertThat(answer.body()).startsWith("error: Reading needs the service's token");
    }
  }

  @Test
  void aBlockHasALineForEachTrackerInItsOrder() {
    assertThat(cell("/sheet/cells?trackers=W-40,W-31,W-99&figures=lot&unknown=none"))
        .as("one that is not there takes no line away")
        .isEqualTo("K15\nK14\nnone");
    assertThat(cell("/sheet/cells?trackers=W-32,W-31&figures=tracker,name,state"))
        .startsWith("W-32,'=1+1,\nW-31,\"Kestrel, left\",");
    assertThat(cell("/sheet/cells?trackers=W-31&figures=lot,operating_c&decimal=comma"))
        .matches("K14;\\d+,\\d{5,}");
    assertThat(cell("/sheet/cells?figures=tracker&lot=K14")).isEqualTo("W-31\nW-32");
    assertThat(cell("/sheet/cells?figures=tracker")).isEqualTo("W-31\nW-32\nW-40\nW-9");
    assertThat(cell("/sheet/cells?trackers=W-32,W-40&figures=state"))
        .as("both are not known")
        .isEqualTo("\n");
    assertThat(refused("/sheet/cells?trackers=W-31", 400)).contains("figures is missing");
    assertThat(refused("/sheet/cells?trackers=W-31&lot=K14&figures=lot", 400)).contains("excludes");
  }

  @Test
  void asManyTrackersAsAnAddressHoldsAreAnsweredAndTenThousandAreToldWhatToDo() {
    String many = ids(2_000);
    assertThat(cell("/sheet/cells?figures=state&unknown=none&trackers=" + many).split("\n"))
        .hasSize(2_000)
        .containsOnly("none");
    HttpResponse<String> tooMany = http.get("/sheet/cells?figures=state&trackers=" + ids(10_000));
    assertThat(tooMany.statusCode()).isEqualTo(414);
    assertThat(tooMany.body()).contains("ask for fewer things at once", "lot or rack");
    assertThat(refused("/sheet/cells?figures=" + "lot,".repeat(11) + "lot&trackers=" + many, 400))
        .contains("20000 cells");
  }

  private static String ids(int count) {
    return IntStream.range(0, count).mapToObj(i -> "Q" + i).collect(Collectors.joining(","));
  }

  @Test
  void aSheetThatAsksTooOftenIsToldSoInALineAndATableIsStillAnswered() {
    AccessLimits one = new AccessLimits(1, 2, 50, 50, 10, Duration.ofMinutes(1));
    try (ApiServer limited = serve(AccessSettings.OPEN.withLimits(one))) {
      Http sheet = new Http(limited.url());
      int taken = 0;
      HttpResponse<String> answer = sheet.get(CELL + "state");
      while (answer.statusCode() == 200 && taken < 2_000) {
        taken++;
        answer = sheet.get(CELL + "state");
      }
      assertThat(taken).as("ten times the burst of other calls").isGreaterThanOrEqualTo(20);
      assertThat(answer.statusCode()).isEqualTo(429);
      assertThat(answer.headers().firstValue("Retry-After")).hasValue("1");
      assertThat(answer.body()).startsWith("error: This client asks for more than its share.");
      // Three cells a second are let through again, so the very next may be.
      String refused = answer.body();
      HttpResponse<String> asText =
          await()
              .pollInterval(Duration.ofMillis(20))
              .until(() -> sheet.get(CELL + "state?onerror=text"), a -> a.body().equals(refused));
      assertThat(asText.statusCode()).isEqualTo(200);
      assertThat(sheet.get("/api/trackers.csv").statusCode()).isEqualTo(200);
    }
  }
}
