package soakbench.api.samples;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.ByteArrayOutputStream;
import java.lang.management.ManagementFactory;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.util.function.Supplier;
import java.util.stream.Stream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import soakbench.api.Http;
import soakbench.api.OwnService;
import soakbench.api.Service;
import soakbench.api.http.Times;
import soakbench.lines.LineMutations;

/** Whatever is posted as samples: it is answered with counts, and the good lines in it are kept. */
class MillionPostedTest {
  private static final int IN_ONE = 5_000;
  private static final int GOOD_EVERY = 1_000;

  /** What live data may grow by after the first tenth, bytes. */
  private static final long FLAT = 24L << 20;

  /** Lines whose times lie too far ahead: whatever becomes of them, few are stored. */
  private static final byte[][] LATER =
      bytes(
          "{\"id\":\"M-1\",\"seq\":12,\"time\":\"2099-01-31T12:00:00.020Z\",\"temp_c\":24.31,"
              + "\"gyro_dps\":[0.31,-0.12,0.05],\"accel_g\":[0.0,0.0,1.0]}",
          "{\"id\":\"M-2\",\"t_ms\":60000,\"boot\":\"b7\",\"temp_c\":24.31}",
          "{\"id\":\"M-3\",\"time\":\"2099-01-31T12:00:00Z\",\"temp_c\":24.31,\"more\":[1,{}]}");

  private static final String HEADER = "id,seq,time,temp_c,gx_dps,gy_dps,gz_dps\n";

  private static final byte[][] ROWS =
      bytes(
          "M-4,12,2099-01-31T12:00:00.020Z,24.31,0.31,-0.12,0.05",
          "M-4,13,2099-01-31T12:00:00.040Z,,0.30,-0.11,0.05",
          "M-4,14,2099-01-31T12:00:00.060Z,24.31,,,");

  private long good;
  private long liveBytes;

  private static byte[][] bytes(String... lines) {
    return Stream.of(lines).map(line -> line.getBytes(UTF_8)).toArray(byte[][]::new);
  }

  @Test
  void garbageAndMutatedLinesAreAnsweredAndTheGoodOnesKept() {
    posted(100_000);
  }

  @Test
  @Tag("bench")
  void aMillionOfGarbageAndAMillionMutatedAreAnsweredAndTheGoodOnesKept() {
    posted(1_000_000);
  }

  /** So many of garbage and so many mutated ones. */
  private void posted(int count) {
    long seed = Long.getLong("soakbench.test.seed", System.nanoTime());
    System.out.println("MillionPostedTest: -Dsoakbench.test.seed=" + seed);
    LineMutations lines = new LineMutations(seed);
    try (OwnService service = new OwnService(null)) {
      for (int sent = 0; sent < count; sent += 2 * IN_ONE) {
        post(service.http, "application/x-ndjson", "", lines::garbage, false);
        post(service.http, "text/csv", HEADER, lines::garbage, true);
        post(service.http, "application/x-ndjson", "", () -> lines.mutated(LATER), false);
        post(service.http, "text/csv", HEADER, () -> lines.mutated(ROWS), true);
        if (sent == count / 10) {
          liveBytes = liveBytes();
        }
      }
      service.watch.tick();
      assertThat(liveBytes() - liveBytes).as("growth of live data, bytes").isLessThan(FLAT);
      long stored = 0;
      for (JsonNode soak :
          service.http.json("/api/soaks?tracker=M-good", "SoakList").get("soaks")) {
        stored += soak.get("samples").asLong();
      }
      // The newest second is still open.
      assertThat(stored).isBetween(good - 20, good);
    }
  }

  private void post(Http http, String type, String header, Supplier<byte[]> line, boolean csv) {
    ByteArrayOutputStream body = new ByteArrayOutputStream();
    body.writeBytes(header.getBytes(UTF_8));
    int goodOnes = 0;
    for (int i = 0; i < IN_ONE; i++) {
      byte[] next = line.get();
      if (i % GOOD_EVERY == GOOD_EVERY / 2) {
        // A garbled header just before would make other columns of a row.
        next = good(csv).getBytes(UTF_8);
        goodOnes++;
      }
      body.writeBytes(next);
      body.write('\n');
    }
    HttpResponse<String> answer =
        http.send(
            http.request("/api/samples")
                .header("Content-Type", type)
                .POST(BodyPublishers.ofByteArray(body.toByteArray()))
                .build());
    JsonNode told = Http.json(answer, "Upload");
    assertThat(told.get("accepted").asInt()).as(answer.body()).isGreaterThanOrEqualTo(goodOnes);
    long accounted =
        told.get("accepted").asLong()
            + told.get("duplicate").asLong()
            + told.get("conflicting").asLong()
            + told.get("rejected").asLong();
    assertThat(accounted).isBetween(IN_ONE / 2L, IN_ONE + 1L);
    assertThat(told.get("problems").size()).isLessThanOrEqualTo(100);
  }

  /** The next of a tracker that is never garbled, ten a second. */
  private String good(boolean csv) {
    String time = Times.text(Service.START_US + 100_000 * good++);
    return csv
        ? "{\"id\":\"M-good\",\"time\":\"" + time + "\",\"temp_c\":24.5,\"gyro_dps\":[0.1,0.2,0.3]}"
        : "{\"id\":\"M-good\",\"time\":\""
            + time
            + "\",\"temp_c\":24.5,\"gyro_dps\":[0.1,0.2,0.4]}";
  }

  private static long liveBytes() {
    ManagementFactory.getMemoryMXBean().gc();
    return ManagementFactory.getMemoryMXBean().getHeapMemoryUsage().getUsed();
  }
}
