package soakbench.api.samples;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.net.http.HttpResponse;
import java.sql.SQLException;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import soakbench.api.Http;
import soakbench.api.Lines;
import soakbench.api.Service;
import soakbench.api.soaks.SoakTest;
import soakbench.ingest.sending.Destination;
import soakbench.ingest.sending.HttpDestination;
import soakbench.live.SampleSink.Outcome;
import soakbench.live.calibration.CalibrationDeriver;
import soakbench.live.figures.FigureDeriver;
import soakbench.model.Sample;

/** What is told of samples that are kept for a limited time, over HTTP. */
@ExtendWith(Service.Running.class)
class RetentionCallsTest {
  private static final String TRACKER = "K-17";
  private static final String NEWER = "K-18";
  private static final Instant NOW =
      Instant.ofEpochSecond(Service.START_US / 1_000_000).plus(Duration.ofDays(40));

  private static JsonNode before;
  private static String soak;
  private static List<Sample> samples = new ArrayList<>();

  @BeforeAll
  static void drop(Service service) throws SQLException {
    SoakTest.send(service, Lines.warmUp(TRACKER, Service.START_US, 6));
    SoakTest.send(service, Lines.warmUp(NEWER, Service.START_US, 6));
    soak = SoakTest.soakOf(service, TRACKER);
    service.watch.end(soak);
    service.database.archive().samples(TRACKER, 0, Long.MAX_VALUE, samples::add);
    FigureDeriver figures = new FigureDeriver(service.database.figures());
    CalibrationDeriver calibrations =
        new CalibrationDeriver(
            service.database.calibrations(), service.database.calibrationReports());
    while (figures.deriveOutdated() + calibrations.deriveOutdated() > 0) {
      continue;
    }
    service.execute("UPDATE soak SET stored = start_time WHERE id = ?", soak);
    service.nowUs.set(NOW.getEpochSecond() * 1_000_000);
    before = service.http.json("/api/retention?days=30", "Retention");
    service.database.retention().keepDays(30);
    assertThat(service.database.retention().pass(NOW, service.watch::alone)).isEqualTo(1);
    service.nowUs.set(Service.START_US);
  }

  @Test
  void whatWouldGoIsToldBeforeAndWhatWentAfterwards(Service service) {
    assertThat(before.get("keep_samples_days").isNull()).isTrue();
    assertThat(before.get("days").asInt()).isEqualTo(30);
    assertThat(before.at("/going/soaks").asInt()).isEqualTo(1);
    assertThat(before.at("/going/samples").asInt()).isEqualTo(samples.size());
    assertThat(before.at("/going/oldest").asText()).isEqualTo("2026-03-01T08:00:00Z");
    JsonNode after = service.http.json("/api/retention", "Retention");
    assertThat(after.get("keep_samples_days").asInt()).isEqualTo(30);
    assertThat(after.get("gone").get("samples")).isEqualTo(before.at("/going/samples"));
    assertThat(after.get("removing").asInt()).isZero();
    assertThat(Http.problem(service.http.get("/api/retention?days=6"), 400, "invalid-request"))
        .asString()
        .contains("days=6 must be a whole number from 7 to 36500");
  }

  @Test
  void itsSamplesAreSaidToBeGoneAndItsBinsAndFiguresAreThere(Service service) {
    HttpResponse<String> answer = service.http.get("/api/soaks/" + soak + "/samples");
    assertThat(Http.problem(answer, 410, "samples-dropped").get("detail").asText())
        .contains("The samples of " + soak + " were dropped on ", soak + "/bins");
    assertThat(service.http.get("/api/soaks/" + soak + "/samples.csv").statusCode()).isEqualTo(410);
    JsonNode told = service.http.json("/api/soaks/" + soak, "Soak");
    assertThat(told.get("samples_kept").asBoolean()).isFalse();
    assertThat(told.get("samples").asInt()).isEqualTo(samples.size());
    assertThat(service.http.json("/api/soaks/" + soak + "/bins", "BinList").get("bins")).hasSize(6);
    assertThat(service.http.json("/api/soaks/" + soak + "/noise", "Noise")).isNotNull();
    String newer = SoakTest.soakOf(service, NEWER);
    assertThat(service.http.get("/api/soaks/" + newer + "/samples").statusCode()).isEqualTo(200);
  }

  @Test
  void aLineOfThenIsRejectedWithTheReasonAndAnotherOfTheSameUploadIsTaken(Service service) {
    String late = Lines.json(TRACKER, Service.START_US + 2_050_000, 24, 0.3);
    String good = Lines.json("K-19", Service.START_US, 24, 0.3);
    JsonNode answer =
        Http.json(
            service.http.send("POST", "/api/samples", "application/x-ndjson", late + good),
            "Upload");
    assertThat(answer.get("accepted").asInt()).isEqualTo(1);
    assertThat(answer.get("rejected").asInt()).isEqualTo(1);
    assertThat(answer.at("/problems/0/line").asInt()).isEqualTo(1);
    assertThat(answer.at("/problems/0/reason").asText())
        .contains("K-17's soak of 2026-03-01T08:00");
    JsonNode told = service.http.json("/api/retention", "Retention");
    assertThat(told.get("late_refused").asInt()).isPositive();
    assertThat(service.http.get("/metrics").body())
        .containsPattern("soakbench_samples_too_late_total [1-9]");
  }

  @Test
  void anAgentThatSendsThemAgainIsToldOfEachAndOneInTheProgramToo(Service service)
      throws Exception {
    Destination elsewhere = new HttpDestination(service.server.url(), () -> null);
    Sample other = samples.get(0).of("K-20");
    List<Sample> batch = List.of(samples.get(3), other, samples.get(7));
    Destination.Receipt far = elsewhere.send(batch);
    assertThat(far.outcome()).isEqualTo(new Outcome(1, 0, 0));
    assertThat(far.refused()).extracting(Destination.Refusal::index).containsExactly(0, 2);
    Destination near =
        Destination.of(
            service.watch,
            s -> service.database.retention().dropped().refusal(s.tracker(), s.timeUs()),
            () -> tracker -> null);
    Destination.Receipt here = near.send(batch);
    assertThat(here.outcome()).isEqualTo(new Outcome(0, 1, 0));
    assertThat(here.refused()).isEqualTo(far.refused());
  }
}
