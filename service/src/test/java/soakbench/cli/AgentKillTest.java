package soakbench.cli;

import java.nio.file.Path;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Nothing that was acknowledged is lost or doubled, whatever dies and when. The long run: {@code
 * mvn -B test -Pbench -Dtest=AgentKillTest}; its result stands in docs/operations.md.
 */
class AgentKillTest {
  @TempDir private Path folder;

  /** A few trackers and deaths; the second finds what the first left behind. */
  @Test
  void nothingAcknowledgedIsLostOrDoubledWhenAgentServiceAndDatabaseAreKilled() throws Exception {
    System.out.println(KilledRack.killed(folder, 8, 2));
  }

  @Test
  @Tag("bench")
  void norWhenTheyAreKilledFiftyTimesEach() throws Exception {
    System.out.println(KilledRack.killed(folder, 24, 50));
  }
}
