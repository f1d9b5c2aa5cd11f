package soakbench.cli.commands;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.net.URI;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.zip.GZIPOutputStream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.api.io.TempDir;
import picocli.CommandLine;
import soakbench.api.ApiServer;
import soakbench.api.ApiSettings;
import soakbench.api.Lines;
import soakbench.api.Service;
import soakbench.api.samples.UploadLimits;
import soakbench.cli.Main;
import soakbench.live.arrival.ArrivalListener;

/** Recordings brought into a running service by the command. */
@ExtendWith(Service.Running.class)
class ImportCommandTest {
  private static final long DAY_US = 86_400_000_000L;
  private static final long START_US = Service.START_US - 60 * DAY_US;

  @TempDir private Path folder;

  private record Said(int exit, String out, String err) {}

  private static Said run(URI to, String... args) {
    StringWriter out = new StringWriter();
    return run(to, new PrintWriter(out, true), out, args);
  }

  private static Said run(URI to, PrintWriter into, StringWriter out, String... args) {
    StringWriter err = new StringWriter();
    CommandLine line = Main.commandLine();
    line.setOut(into);
    line.setErr(new PrintWriter(err, true));
    List<String> all = new ArrayList<>(List.of("import", "--to", to.toString()));
    all.addAll(List.of(args));
    return new Said(line.execute(all.toArray(String[]::new)), out.toString(), err.toString());
  }

  private Path write(String name, String lines) throws IOException {
    Path file = folder.resolve(name);
    Files.createDirectories(file.getParent());
    if (!name.endsWith(".gz")) {
      return Files.writeString(file, lines);
    }
    try (GZIPOutputStream out = new GZIPOutputStream(Files.newOutputStream(file))) {
      out.write(lines.getBytes(java.nio.charset.StandardCharsets.UTF_8));
    }
    return file;
  }

  private static long soaks(Service service, String tracker) {
    return service.http.json("/api/soaks?tracker=" + tracker, "SoakList").get("soaks").size();
  }

  private static String number(Said said) {
    return said.out().replaceFirst("(?s).*?import (\\d+):.*", "$1");
  }

  @Test
  void ofAFolderOneBrokenFileIsNamedAndTheOthersGoIn(Service service) throws IOException {
    for (int i = 0; i < 8; i++) {
      write("a/" + i + ".jsonl.gz", Lines.steady("IC-" + i, START_US + i * DAY_US, 30));
    }
    write("b/broken.jsonl", "rst:0x1\n");
    write("b/undated.jsonl", "{\"id\":\"IC-u\",\"t_ms\":5,\"temp_c\":20}\n".repeat(3));
    write("b/other.csv", "not,a,recording\n");
    Said said = run(service.http.base(), "--lot", "Barley-2", folder.toString());
    assertThat(said.exit()).isEqualTo(1);
    assertThat(said.err()).isEmpty();
    assertThat(said.out())
        .contains("import " + number(said) + ": 11 files")
        .contains("0.jsonl.gz: 30 samples new, 0 there already, of IC-0")
        .contains("broken.jsonl: FAILED, it holds no sample: 1 of 1 lines not used")
        .contains("undated.jsonl: FAILED, nothing in it says when it was recorded")
        .contains("8 of 11 files are in, whole: 240 samples new", "3 FAILED");
    assertThat(said.out().lines().filter(l -> l.contains("samples new, 0 there"))).hasSize(12);
    JsonNode unit = service.http.json("/api/trackers/IC-3", "Tracker");
    assertThat(unit.get("lot").asText()).isEqualTo("Barley-2");

    Said again = run(service.http.base(), folder.resolve("a").toString());
    assertThat(again.exit()).isZero();
    assertThat(again.out()).contains("8 of 8 files are in, whole: 0 samples new, 240 there");

    Said undone = run(service.http.base(), "--undo", number(said), "--reason", "the wrong one");
    assertThat(undone.out()).contains("240 samples taken out");
    assertThat(soaks(service, "IC-3")).isZero();
    assertThat(run(service.http.base(), "--list").out())
        .containsPattern(number(said) + " .*undone .*the wrong one");
  }

  /** Run by {@code mvn -B test -Pbench -Dtest=ImportCommandTest}; some minutes. */
  @Test
  @Tag("bench")
  void hundredsOfRecordingsGoInByOneCommandAndOutByAnother(Service service) throws IOException {
    int units = 100;
    int soaksOfEach = 4;
    for (int i = 0; i < units * soaksOfEach; i++) {
      String id = "ICM-" + i % units;
      write("many/" + i + ".jsonl.gz", Lines.warmUp(id, START_US + i / units * DAY_US, 600, 1));
    }
    long beganNs = System.nanoTime();
    Said said = run(service.http.base(), folder.toString());
    double tookS = (System.nanoTime() - beganNs) / 1e9;
    System.out.printf("400 recordings of 600 samples took %.0f s%n", tookS);
    assertThat(said.exit()).as(said.err()).isZero();
    assertThat(said.out()).contains("400 of 400 files are in, whole: 240000 samples new");
    assertThat(soaks(service, "ICM-0")).isEqualTo(soaksOfEach);
    assertThat(soaks(service, "ICM-" + (units - 1))).isEqualTo(soaksOfEach);

    assertThat(run(service.http.base(), folder.toString()).out())
        .contains("400 of 400 files are in, whole: 0 samples new, 240000 there");
    Said undone = run(service.http.base(), "--undo", number(said), "--reason", "a trial");
    assertThat(undone.out()).contains("240000 samples taken out");
    assertThat(soaks(service, "ICM-0")).isZero();
  }

  @Test
  void piecesThatAreTooLargeForARequestAreCutByTheCommand(Service service) throws IOException {
    Path file = write("large.jsonl", Lines.steady("IC-large", START_US, 4000));
    ApiSettings settings =
        ApiSettings.local(0).withUploads(UploadLimits.DEFAULT.withLargestBytes(200_000));
    try (ApiServer small = service.hearing(settings, ArrivalListener.NOBODY)) {
      Said said = run(small.url(), file.toString());
      assertThat(Files.size(file)).isGreaterThan(400_000);
      assertThat(said.out()).contains("4000 samples new, 0 there already, of IC-large");
      assertThat(said.exit()).isZero();
    }
  }

  @Test
  void aServiceThatGoesAwayIsWaitedForAndThenItSaysHowToGoOn(Service service) throws IOException {
    write("1.jsonl", Lines.steady("IC-gone", START_US, 30));
    write("2.jsonl", Lines.steady("IC-gone", START_US + DAY_US, 30));
    ApiServer other = service.hearing(ApiSettings.local(0), ArrivalListener.NOBODY);
    StringWriter out = new StringWriter();
    PrintWriter closing =
        new PrintWriter(out, true) {
          @Override
          public void println(Object line) {
            super.println(line);
          }

          @Override
          public void println(String line) {
            super.println(line);
            if (line.contains("1.jsonl")) {
              other.close();
            }
          }
        };
    Said said = run(other.url(), closing, out, "--patience", "1", folder.toString());
    assertThat(said.exit()).isEqualTo(1);
    String id = number(said);
    assertThat(said.out()).contains("1.jsonl: 30 samples new", "--go-on " + id);
    assertThat(said.err()).contains("no answer from", "is the service running there?");

    Said on = run(service.http.base(), "--go-on", id, folder.toString());
    assertThat(on.exit()).isZero();
    assertThat(on.out()).contains("1.jsonl: is in already", "2.jsonl: 30 samples new");
    assertThat(soaks(service, "IC-gone")).isEqualTo(2);
  }

  @Test
  void whatIsNotMeantIsRefusedInASentence(Service service) throws IOException {
    URI to = service.http.base();
    Path file = write("o.jsonl", Lines.steady("IC-other", START_US, 30));
    assertThat(run(to, "--id", "IC-mine", file.toString()).out())
        .contains("FAILED, it holds lines of tracker IC-other, not of --id IC-mine");
    assertThat(soaks(service, "IC-other")).isZero();
    assertThat(run(to, folder.resolve("none.jsonl").toString()).out())
        .contains("none.jsonl: FAILED, it does not exist");
    assertThat(run(to, "--id", "no id!", file.toString()).err()).contains("--id no id! is no id");
    assertThat(run(to).err()).contains("name recordings or folders");
    assertThat(run(to, "--undo", "1").err()).contains("--undo needs --reason");
    assertThat(run(to, "--undo", "999999", "--reason", "x").err())
        .contains("There is no import 999999");
    assertThat(run(to, "--go-on", "999999", file.toString()).err())
        .contains("There is no import 999999");
    assertThat(run(URI.create("http://127.0.0.1:1"), "--patience", "0", file.toString()).err())
        .contains("http://127.0.0.1:1/ can't be reached", "is the service running there?");
    assertThat(run(URI.create("bench-9"), file.toString()).err()).contains("is no address");
    Path future = write("f.jsonl", Lines.steady("IC-future", Service.START_US * 2, 30));
    assertThat(run(to, future.toString()).out())
        .contains("FAILED, 30 samples were refused: The time 20", "ahead of this service's clock");
  }
}
