package soakbench.api.limits;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.net.http.HttpResponse;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import soakbench.api.ApiServer;
import soakbench.api.ApiSettings;
import soakbench.api.Http;
import soakbench.api.OpenApiCalls;
import soakbench.api.OwnService;
import soakbench.api.QuickStop;
import soakbench.api.http.Json;
import soakbench.live.memory.MemoryStore;
import soakbench.live.watch.SoakWatch;
import soakbench.model.LimitKey;
import soakbench.model.Limits;
import soakbench.model.LimitsDraft;
import soakbench.store.Database;
import soakbench.store.SharedServer;

/** Limits read and put over HTTP. */
class LimitsTest {
  private static OwnService service;

  @BeforeAll
  static void start() {
    service = new OwnService(null);
  }

  @AfterAll
  static void stop() {
    service.close();
  }

  private static Limits bandFrom(double lowC) {
    LimitsDraft draft = new LimitsDraft(Limits.DEFAULT);
    draft.set("band_low_c", lowC);
    return draft.limits();
  }

  private static HttpResponse<String> put(OwnService to, String query, String body) {
    return to.http.send("PUT", "/api/limits" + query, "application/json", body);
  }

  private static JsonNode changed(String query, String body) {
    return Http.json(put(service, query, body), "LimitsChanged");
  }

  private static JsonNode inForce() {
    return service.http.json("/api/limits", "LimitsInForce");
  }

  private static List<String> fields(JsonNode problem) {
    List<String> fields = new ArrayList<>();
    problem.get("problems").forEach(p -> fields.add(p.get("field").asText()));
    return fields;
  }

  @Test
  void aServiceStartsWithTheDefaultsAndKeepsTheHistoryOfEveryChange() {
    try (OwnService own = new OwnService(null)) {
      JsonNode first = own.http.json("/api/limits", "LimitsInForce");
      assertThat(first.get("origin").asText()).isEqualTo("defaults");
      assertThat(first.get("since").asText()).isEqualTo("2026-03-01T08:00:00Z");
      assertThat(first.get("limits")).isEqualTo(Http.tree(Limits.DEFAULT));
      assertThat(first.get("history")).hasSize(1);
      assertThat(first.at("/history/0/differences")).isEmpty();

      own.nowUs.addAndGet(60_000_000);
      JsonNode done =
          Http.json(
              put(own, "", "{\"dwell_s\":90,\"near_use_limit_deg_per_min\":2.5}"), "LimitsChanged");
      assertThat(done.get("since").asText()).isEqualTo("2026-03-01T08:01:00Z");
      assertThat(done.get("note").isNull()).isTrue();
      own.nowUs.addAndGet(60_000_000);
      assertThat(put(own, "", "{\"dwell_s\":90}").statusCode()).isEqualTo(200);
      Http.json(put(own, "", "{\"near_use_limit_deg_per_min\":null}"), "LimitsChanged");

      own.restart(null);
      JsonNode now = own.http.json("/api/limits", "LimitsInForce");
      assertThat(now.get("origin").asText()).isEqualTo("http");
      assertThat(now.at("/limits/dwell_s").asDouble()).isEqualTo(90);
      assertThat(now.at("/limits/shift_limit_dps").asDouble()).isEqualTo(0.01);
      assertThat(now.get("history")).hasSize(3);
      assertThat(now.at("/history/0/differences").toString())
          .isEqualTo(
              "[{\"field\":\"near_use_limit_deg_per_min\",\"unit\":\"deg/min\",\"was\":2.5,"
                  + "\"is\":null}]");
      assertThat(now.at("/history/1/differences")).hasSize(2);
      assertThat(now.at("/history/1/since").asText()).isEqualTo("2026-03-01T08:01:00Z");
    }
  }

  @Test
  void whoeverReadsADatabaseThatNobodyHasWrittenToHasTheDefaults() {
    SoakWatch watch = new SoakWatch(new MemoryStore(), Limits.DEFAULT, () -> 0);
    try (Database database = Database.open(SharedServer.empty());
        ApiServer reader =
            QuickStop.of(ApiServer.start(ApiSettings.local(0), watch, database, () -> 0))) {
      JsonNode found = new Http(reader.url()).json("/api/limits", "LimitsInForce");
      assertThat(found.get("limits")).isEqualTo(Http.tree(Limits.DEFAULT));
      assertThat(found.get("origin").asText()).isEqualTo("defaults");
      assertThat(found.get("history")).isEmpty();
    }
  }

  @Test
  void limitsOfAFileAreInTheHistoryAndTheOneWhoPutsOthersIsToldThatTheyComeBack() {
    Limits file = bandFrom(29);
    try (OwnService own = new OwnService(file)) {
      JsonNode first = own.http.json("/api/limits", "LimitsInForce");
      assertThat(first.get("origin").asText()).isEqualTo("file");
      assertThat(first.at("/history/0/differences/0/field").asText()).isEqualTo("band_low_c");
      JsonNode done = Http.json(put(own, "", "{\"dwell_s\":90}"), "LimitsChanged");
      assertThat(done.get("note").asText()).contains("limits file").contains("at the next start");
      own.restart(file);
      JsonNode now = own.http.json("/api/limits", "LimitsInForce");
      assertThat(now.get("origin").asText()).isEqualTo("file");
      assertThat(now.at("/limits/dwell_s").asDouble()).isEqualTo(60);
      assertThat(now.get("history")).hasSize(3);
    }
  }

  @Test
  void aDryRunTellsWhatWouldChangeAndSavesNothing() {
    JsonNode before = inForce();
    JsonNode would = changed("?dry_run=true", "{\"dwell_s\":77}");
    assertThat(would.get("dry_run").asBoolean()).isTrue();
    assertThat(would.get("since").isNull()).isTrue();
    assertThat(would.at("/limits/dwell_s").asDouble()).isEqualTo(77);
    assertThat(would.at("/differences/0/is").asDouble()).isEqualTo(77);
    assertThat(inForce()).isEqualTo(before);
  }

  @Test
  void aMisspeltParameterChangesNothing() {
    JsonNode before = inForce();
    JsonNode problem =
        Http.problem(put(service, "?dryrun=true", "{\"dwell_s\":77}"), 400, "invalid-request");
    assertThat(problem.get("detail").asText())
        .isEqualTo("There is no parameter dryrun; did you mean \"dry_run\"?");
    Http.problem(put(service, "?now=soon", "{\"dwell_s\":77}"), 400, "invalid-request");
    assertThat(inForce()).isEqualTo(before);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      quoteCharacter = '`',
      value = {
        "{\"dwell\":1}                      | dwell             | did you mean \"dwell_s\"?",
        "{\"wrong\":1}                      | wrong             | the limits are heard_within_s, ",
        "{\"dwell_s\":\"60\"}               | dwell_s           | dwell_s is \"60\"; it must be a",
        "{\"dwell_s\":\"NaN\"}              | dwell_s           | from 0 to 3600 s.",
        "{\"dwell_s\":null}                 | dwell_s           | dwell_s is null",
        "{\"dwell_s\":true}                 | dwell_s           | dwell_s is true",
        "{\"dwell_s\":[60]}                 | dwell_s           | dwell_s is [60]",
        "{\"dwell_s\":-1}                   | dwell_s           | dwell_s is -1 s",
        "{\"dwell_s\":1e999}                | dwell_s           | must be a number",
        "{\"alpha\":0}                      | alpha             | alpha is 0; it must be a number",
        "{\"alpha\":0.5}                    | alpha             | from 0.0001 to 0.4999.",
        "{\"alpha\":-0.05}                  | alpha             | alpha is -0.05",
        "{\"shift_limit_dps\":0}            | shift_limit_dps   | from 0.0001 to 10 deg/s.",
        "{\"heard_within_s\":0}             | heard_within_s    | from 1 to 600 s.",
        "{\"heard_within_s\":601}           | heard_within_s    | from 1 to 600 s.",
        "{\"band_low_c\":34.5}              | band_low_c        | must be below band_high_c 34"
            + " degC",
        "{\"band_low_c\":34}                | band_low_c        | band_low_c 34 degC must be below",
        "{\"use_temperature_c\":27.9}       | use_temperature_c | outside the band of 28 to 34",
        "{\"use_temperature_c\":34.1}       | use_temperature_c | set it to lie within, or move",
        "{\"hot_c\":34}                     | hot_c             | must lie above the band",
        "{\"hot_c\":75}                     | hot_c             | to 60 degC",
        "{\"near_use_limit_deg_per_min\":0} | near_use_limit_deg_per_min | or null to leave it"
            + " open",
      })
  void whatMakesNoSenseIsRefusedWithWhatToChange(String body, String field, String words) {
    JsonNode before = inForce();
    for (String query : List.of("", "?dry_run=true", "?now=true")) {
      JsonNode problem = Http.problem(put(service, query, body), 422, "invalid-content");
      assertThat(fields(problem)).containsExactly(field);
      assertThat(problem.at("/problems/0/reason").asText()).contains(words);
      assertThat(problem.get("detail").asText()).startsWith("The limits were not changed.");
    }
    assertThat(inForce()).isEqualTo(before);
  }

  @Test
  void everyMistakeIsToldAtOnceAndTheRestIsNotSavedEither() {
    JsonNode before = inForce();
    String body = "{\"dwell_s\":90,\"alpha\":0.7,\"alfa\":1,\"band_high_c\":20,\"hot_c\":\"hot\"}";
    JsonNode problem = Http.problem(put(service, "", body), 422, "invalid-content");
    assertThat(fields(problem)).containsExactly("alpha", "alfa", "hot_c", "band_low_c");
    assertThat(inForce()).isEqualTo(before);
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "",
        "[]",
        "7",
        "null",
        "{",
        "{\"dwell_s\":NaN}",
        "{\"dwell_s\":60}}",
        "{\"dwell_s\":60,\"dwell_s\":90}",
        "dwell_s: 60"
      })
  void aBodyThatIsNoObjectOfJsonIsRefused(String body) {
    JsonNode before = inForce();
    JsonNode problem = Http.problem(put(service, "", body), 400, "invalid-request");
    assertThat(problem.get("detail").asText()).startsWith("The body is not limits in JSON: ");
    assertThat(inForce()).isEqualTo(before);
  }

  @Test
  void onlyJsonIsTaken() {
    Http.problem(
        service.http.send("PUT", "/api/limits", "application/yaml", "dwell_s: 60"),
        415,
        "unsupported-media-type");
  }

  @Test
  void thePublishedRangesUnitsAndDefaultsAreThoseThatHold() throws Exception {
    JsonNode properties =
        Json.mapper().readTree(OpenApiCalls.json()).at("/components/schemas/Limits/properties");
    List<String> names = new ArrayList<>();
    properties.fieldNames().forEachRemaining(names::add);
    assertThat(names).isEqualTo(LimitKey.keys());
    for (LimitKey key : LimitKey.values()) {
      JsonNode published = properties.get(key.key());
      assertThat(published.get("minimum").asDouble()).as(key.key()).isEqualTo(key.least());
      assertThat(published.get("maximum").asDouble()).as(key.key()).isEqualTo(key.most());
      assertThat(published.get("x-unit").asText()).as(key.key()).isEqualTo(key.unit());
      JsonNode otherwise = published.get("default");
      assertThat(otherwise.isNull() ? null : otherwise.asDouble())
          .as(key.key())
          .isEqualTo(key.of(Limits.DEFAULT));
    }
  }
}
