package soakbench.cli.commands;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.net.URI;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Set;
import java.util.TreeSet;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import soakbench.cli.Serving;

/** Where there are no pseudo-terminals, the demo's trackers connect to the real socket. */
@Timeout(300)
class DemoOverTcpTest {
  private static final Duration PATIENCE = Duration.ofSeconds(120);
  private static final String BOARD = "board at ";

  @TempDir private Path folder;

  @Test
  void theTrackersAreOnTheBoardAndAllLinesComeByOneSocket() throws Exception {
    try (Serving demo =
        Serving.command(
            folder.resolve("said"), "demo", "--over", "tcp", "--speed", "200", "--port", "0")) {
      URI board = board(demo);
      demo.awaitSaid("stop with Ctrl-C");
      assertThat(demo.text()).contains("lines come over TCP on this computer\n");

      // Two of the twelve are switched on half an hour later.
      await().atMost(PATIENCE).until(() -> judged(board).size() >= 10);
      JsonNode sources = json(board, "api/ports").get("ports");
      assertThat(sources).hasSize(1);
      assertThat(sources.get(0).get("kind").asText()).isEqualTo("tcp");
      assertThat(sources.get(0).get("open").asBoolean()).isTrue();
      // Aspen's cable comes out at this pace after five seconds, for less than three.
      assertThat(sources.get(0).get("senders").size()).isBetween(10, 12);
      // Poplar chatters, as it does on a serial port.
      assertThat(sources.get(0).get("rejections"))
          .allSatisfy(r -> assertThat(r.get("kind").asText()).isEqualToIgnoringCase("chatter"));
    }
  }

  private static URI board(Serving demo) throws IOException {
    demo.awaitSaid(BOARD);
    return URI.create(
        demo.text()
            .lines()
            .filter(l -> l.startsWith(BOARD))
            .findFirst()
            .orElseThrow()
            .substring(BOARD.length()));
  }

  private static Set<String> judged(URI board) throws Exception {
    Set<String> trackers = new TreeSet<>();
    for (JsonNode verdict : json(board, "api/readiness").get("trackers")) {
      if (verdict.hasNonNull("temperature_c")) {
        trackers.add(verdict.get("tracker").asText());
      }
    }
    return trackers;
  }

  private static JsonNode json(URI board, String path) throws Exception {
    return Serving.json(Serving.get(board.resolve(path)));
  }
}
