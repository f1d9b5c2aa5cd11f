package soakbench.api.sheet;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.api.io.TempDir;
import soakbench.api.Lines;
import soakbench.api.Service;
import soakbench.api.soaks.SoakTest;

/** The long table is read in one line by the programs that statistics are done with. */
@ExtendWith(Service.Running.class)
class StatisticsProgramsTest {
  private static final int PATIENCE_S = 60;

  @TempDir private Path folder;

  @BeforeAll
  static void record(Service service) {
    service.http.send("PUT", "/api/trackers", "text/csv", "id,lot\nStat-1,Stat\n");
    SoakTest.send(service, Lines.warmUp("Stat-1", Service.START_US, 120, 2));
    while (service.server.derivers().figures().deriveOutdated() > 0) {
      // Until all are derived.
    }
  }

  private static String address(Service service) {
    return service.server.url() + "api/figures.csv?lot=Stat&shape=long";
  }

  @Test
  void pandasReadsTheLongTable(Service service) throws Exception {
    require("pandas", "python3", "-c", "import pandas");
    String code =
        "import pandas; t = pandas.read_csv('%s'); print(list(t.columns), len(t), t.value.dtype)"
            .formatted(address(service));
    assertThat(said("python3", "-c", code))
        .contains("['id', 'axis', 'figure', 'value', 'low', 'high', 'unit', 'reason']")
        .contains(" " + rows(service) + " float64");
  }

  @Test
  void rReadsTheLongTable(Service service) throws Exception {
    require("R", "Rscript", "--version");
    String code =
        "t <- read.csv('%s'); cat(names(t), nrow(t), class(t$value))".formatted(address(service));
    assertThat(said("Rscript", "-e", code))
        .contains("id axis figure value low high unit reason " + rows(service) + " numeric");
  }

  private static long rows(Service service) {
    return service.http.get("/api/figures.csv?lot=Stat&shape=long").body().lines().count() - 1;
  }

  private void require(String what, String... command) throws InterruptedException {
    boolean runs = runs(command);
    if (!runs) {
      System.err.println(what + " is not asked to read the long table: it is not there.");
    }
    assumeTrue(runs, what + " is not there");
  }

  private boolean runs(String... command) throws InterruptedException {
    try {
      return run(command).exitValue() == 0;
    } catch (IOException e) {
      return false;
    }
  }

  private String said(String... command) throws IOException, InterruptedException {
    Process process = run(command);
    String said = Files.readString(folder.resolve("said"));
    assertThat(process.exitValue()).as(said).isZero();
    return said;
  }

  private Process run(String... command) throws IOException, InterruptedException {
    Process process =
        new ProcessBuilder(command)
            .redirectErrorStream(true)
            .redirectOutput(folder.resolve("said").toFile())
            .start();
    assertThat(process.waitFor(PATIENCE_S, TimeUnit.SECONDS)).isTrue();
    return process;
  }
}
