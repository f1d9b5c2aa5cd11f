package soakbench.store;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.BufferedReader;
import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import soakbench.Drawn;
import soakbench.bench.Program;
import soakbench.live.SoakStore.Unit;
import soakbench.live.watch.SoakWatch;
import soakbench.model.Soak;
import soakbench.readiness.Readiness;
import soakbench.store.server.DatabaseSettings;
import soakbench.store.server.ReadyFolder;

/** Killed at any moment, also between a soak's seconds and its judge, a program goes on alike. */
class KeptJudgeCrashTest {
  @TempDir Path temp;

  private void killed(Drawn drawn, int times) throws IOException, InterruptedException {
    Path folder = ReadyFolder.in(temp.resolve("data"));
    int sent = 0;
    for (int i = 0; i < times; i++) {
      sent = killedAfter(folder, sent, drawn.from(0, 400));
      try (Database database = Database.open(DatabaseSettings.embedded(folder))) {
        assertThat(kept(database)).isTrue();
        List<Readiness> anew = KeepingWriter.watch(database, "another program").readiness();
        SoakWatch watch = KeepingWriter.watch(database, KeepingWriter.PROGRAM);
        assertThat(watch.readiness()).hasSize(1);
        assertThat(watch.readiness()).usingRecursiveComparison().isEqualTo(anew);
      }
    }
  }

  private static boolean kept(Database database) {
    try (Unit unit = database.soakStore().begin()) {
      Soak soak = unit.lastSoaks().get(0);
      return unit.keptJudge(soak, KeepingWriter.PROGRAM).isPresent();
    }
  }

  /** Returns how many samples it said were committed. */
  private static int killedAfter(Path folder, int from, int ms)
      throws IOException, InterruptedException {
    Process program =
        new ProcessBuilder(
                Program.command(
                    Program.soon(), KeepingWriter.class, List.of(folder.toString(), "" + from)))
            .redirectError(ProcessBuilder.Redirect.INHERIT)
            .start();
    int sent = from;
    try (BufferedReader output = program.inputReader()) {
      for (int i = 0; i < 3; i++) {
        sent = Integer.parseInt(output.readLine());
      }
      TimeUnit.MILLISECONDS.sleep(ms);
      program.toHandle().destroyForcibly();
      for (String line = output.readLine(); line != null; line = output.readLine()) {
        sent = Integer.parseInt(line);
      }
    }
    program.waitFor();
    return sent;
  }

  @Test
  void itGoesOnAlike() throws Exception {
    killedFrom(5, 1);
  }

  @Test
  @Tag("bench")
  void itGoesOnAlikeAfterManyDeaths() throws Exception {
    killedFrom(System.nanoTime(), 40);
  }

  private void killedFrom(long seed, int times) {
    Drawn.casesFrom(
        seed,
        1,
        drawn -> {
          try {
            killed(drawn, times);
          } catch (IOException | InterruptedException e) {
            throw new AssertionError(e);
          }
        });
  }
}
