package soakbench.cli.running;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.io.IOException;
import java.io.InputStream;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import soakbench.LogLines;
import soakbench.api.ApiSettings;
import soakbench.cli.Serving;
import soakbench.store.SharedServer;

/** A service that is told to stop while somebody sends it a large recording. */
@Timeout(300)
class StopWhileUploadingTest {
  @Test
  void itStopsSoonAndSaysWhatWasTaken() throws Exception {
    Service service =
        Service.start(SharedServer.empty(), ApiSettings.local(0), null, new MonotonicClock());
    try (LogLines log = new LogLines("soakbench.api.samples.SampleCalls")) {
      HttpRequest upload =
          HttpRequest.newBuilder(service.url().resolve("api/samples"))
              .header("Content-Type", "application/x-ndjson")
              .POST(HttpRequest.BodyPublishers.ofInputStream(Endless::new))
              .build();
      CompletableFuture<HttpResponse<String>> answer =
          CompletableFuture.supplyAsync(() -> sent(upload));
      await().atMost(Duration.ofSeconds(60)).until(() -> !service.watch().readiness().isEmpty());
      long before = System.nanoTime();
      service.close();
      // Ten on a machine left alone; the build runs two programs of tests side by side.
      assertThat(Duration.ofNanos(System.nanoTime() - before)).isLessThan(Duration.ofSeconds(20));
      HttpResponse<String> told = answer.get(30, TimeUnit.SECONDS);
      if (told != null) {
        assertThat(told.statusCode()).isEqualTo(503);
        assertThat(told.body()).contains("The service is stopping", "samples of it were kept");
      }
      assertThat(log.lines())
          .anySatisfy(
              line -> assertThat(line).contains("stopping: of an upload", "had been taken"));
    } finally {
      service.close();
    }
  }

  /** Null where the connection was closed before an answer. */
  private static HttpResponse<String> sent(HttpRequest upload) {
    try {
      return Serving.send(upload);
    } catch (IOException e) {
      return null;
    } catch (InterruptedException e) {
      throw new IllegalStateException(e);
    }
  }

  /** Lines without end, as slowly as a busy network brings them. */
  private static final class Endless extends InputStream {
    private final Instant start = Instant.now().minusSeconds(36_000);
    private byte[] line = new byte[0];
    private int at;
    private long seq;

    @Override
    public int read() {
      byte[] one = new byte[1];
      return read(one, 0, 1) < 0 ? -1 : one[0] & 0xff;
    }

    @Override
    public int read(byte[] into, int offset, int length) {
      if (at == line.length) {
        if (seq % 1000 == 999) {
          java.util.concurrent.locks.LockSupport.parkNanos(20_000_000);
        }
        line =
            "{\"id\":\"U-1\",\"time\":\"%s\",\"seq\":%d,\"temp_c\":25.5,\"gyro_dps\":[0.3,-0.1,0.1]}\n"
                .formatted(start.plusMillis(seq * 20), seq++)
                .getBytes(StandardCharsets.UTF_8);
        at = 0;
      }
      int count = Math.min(length, line.length - at);
      System.arraycopy(line, at, into, offset, count);
      at += count;
      return count;
    }
  }
}
