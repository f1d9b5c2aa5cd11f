package soakbench.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Random;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import soakbench.store.server.KillableServer;

/**
 * Starts with a kill or a signal at a random moment of the first ten seconds: to the service, its
 * database server or one of the server's processes. Afterwards nothing is left running, the next
 * start succeeds, and nobody was given wrong advice. The long run: {@code mvn -B test -Pbench
 * -Dtest=StartKillsTest}.
 */
@Timeout(4 * 3600)
class StartKillsTest {
  private static final int WITHIN_MS = 10_000;
  private static final List<String> WRONG =
      List.of(
          "mistake", "restore its tables from a backup", "pre-existing shared memory", "Exception");

  @TempDir private Path folder;
  private final List<Double> nextStartS = new ArrayList<>();
  private final List<Double> stopS = new ArrayList<>();

  @Test
  void aFewStartsSurviveWhateverIsKilled() throws Exception {
    System.out.println(starts(2));
  }

  @Test
  @Tag("bench")
  void twoHundredStartsSurviveWhateverIsKilled() throws Exception {
    System.out.println(starts(Integer.getInteger("soakbench.test.starts", 200)));
  }

  private String starts(int count) throws Exception {
    long seed = Long.getLong("soakbench.test.seed", System.nanoTime());
    System.out.println("StartKillsTest: -Dsoakbench.test.seed=" + seed);
    Random random = new Random(seed);
    Path data = folder.resolve("data");
    for (int i = 0; i < count; i++) {
      // Every tenth is a first start.
      if (i % 10 == 0) {
        data = folder.resolve("data-" + i);
      }
      String what = start(data, random);
      System.out.println(i + ": " + what);
    }
    return String.format(
        Locale.ROOT,
        "%d starts disturbed: next start well after %s s; stopped after %s s (median, greatest)",
        count,
        spread(nextStartS),
        spread(stopS));
  }

  private String start(Path data, Random random) throws Exception {
    int atMs = random.nextInt(WITHIN_MS);
    String whom = List.of("service", "server", "one of the server's").get(random.nextInt(3));
    String signal = random.nextBoolean() ? "KILL" : "TERM";
    String what = signal + " to " + whom + " at " + atMs + " ms";
    Serving first = Serving.start(folder.resolve("said"), "--data", data.toString());
    TimeUnit.MILLISECONDS.sleep(atMs);
    Optional<ProcessHandle> victim = victim(whom, first, data, random);
    if (victim.isPresent()) {
      Serving.signal(victim.get(), signal);
    }
    if (whom.equals("service") && signal.equals("KILL")) {
      first.process.waitFor();
    } else if (!whom.equals("service")) {
      first.awaitWell();
      assertThat(first.process.isAlive()).as(what + "\n" + first.text()).isTrue();
    }
    if (!(whom.equals("service") && signal.equals("KILL"))) {
      stop(first, data, what);
    }
    honest(first, what);
    next(data, what);
    return what + (victim.isPresent() ? "" : " (not there yet)");
  }

  private Optional<ProcessHandle> victim(String whom, Serving serving, Path data, Random random)
      throws IOException {
    if (whom.equals("service")) {
      return Optional.of(serving.process.toHandle());
    }
    Optional<ProcessHandle> server = KillableServer.serverOn(data);
    if (whom.equals("server")) {
      return server;
    }
    List<ProcessHandle> all = new ArrayList<>(KillableServer.processesOn(data));
    server.ifPresent(all::remove);
    return all.isEmpty() ? Optional.empty() : Optional.of(all.get(random.nextInt(all.size())));
  }

  private void stop(Serving serving, Path data, String what) throws Exception {
    long before = System.nanoTime();
    serving.close();
    stopS.add(seconds(before));
    assertThat(KillableServer.processesOn(data)).as(what + "\n" + serving.text()).isEmpty();
  }

  private void next(Path data, String what) throws Exception {
    long before = System.nanoTime();
    Serving next = Serving.start(folder.resolve("next"), "--data", data.toString());
    next.awaitWell();
    nextStartS.add(seconds(before));
    assertThat(next.process.isAlive()).as(what + "\n" + next.text()).isTrue();
    stop(next, data, what);
    honest(next, what);
  }

  private static void honest(Serving serving, String what) throws IOException {
    assertThat(serving.text()).as(what).doesNotContain(WRONG);
  }

  private static double seconds(long sinceNs) {
    return Duration.ofNanos(System.nanoTime() - sinceNs).toMillis() / 1000.0;
  }

  private static String spread(List<Double> values) {
    List<Double> sorted = new ArrayList<>(values);
    Collections.sort(sorted);
    return sorted.isEmpty()
        ? "-"
        : sorted.get(sorted.size() / 2) + ", " + sorted.get(sorted.size() - 1);
  }
}
