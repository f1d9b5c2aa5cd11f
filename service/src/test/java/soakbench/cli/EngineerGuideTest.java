package soakbench.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Pattern;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import picocli.CommandLine;
import soakbench.api.lots.LotService;
import soakbench.api.lots.StoredLots;

/** What the guide to lots names must answer as it stands there. */
class EngineerGuideTest {
  private static final Path GUIDE = Path.of("..", "docs", "engineer.md");
  private static final String LOCAL = "http://127.0.0.1:8094";
  private static final int QUESTIONS = 10;

  /** A soak whose data are not stored has a page, but no curve. */
  private static final String PLACEHOLDER = "SOAK";

  private static LotService service;
  private static String guide;

  @BeforeAll
  static void serve() throws Exception {
    guide = Files.readString(GUIDE).replace("Barley-2-001", "Barley2-0001");
    service =
        new LotService(
            new StoredLots(3)
                .lot("Barley-2", 8, 0.009, "window", 2, 1, 8)
                .lot("Thistle-5", 8, 0.027, "window", 2, 1, 8));
  }

  @AfterAll
  static void stop() {
    service.close();
  }

  private static List<String> found(String pattern) {
    return Pattern.compile(pattern, Pattern.MULTILINE)
        .matcher(guide)
        .results()
        .map(match -> match.group(1))
        .toList();
  }

  private static void answers(String path) {
    HttpResponse<String> answer = service.http.get(path);
    assertThat(answer.statusCode()).as("%s: %s", path, answer.body()).isEqualTo(200);
    assertThat(answer.body()).as(path).hasSizeGreaterThan(20);
  }

  @Test
  void eachQuestionHasACommandACallAndAPage() {
    assertThat(found("^## (\\d+)\\. ")).hasSize(QUESTIONS);
    for (String kind : List.of("command", "call", "page")) {
      assertThat(found("^\\| " + kind + " \\| `([^`]+)` \\|$")).as(kind).hasSize(QUESTIONS);
    }
  }

  @Test
  void everyCallIsAnswered() {
    List<String> calls = found("`GET (/api[^`]*)`");
    assertThat(calls).hasSizeGreaterThan(QUESTIONS);
    calls.stream().filter(call -> !call.contains(PLACEHOLDER)).forEach(EngineerGuideTest::answers);
  }

  @Test
  void everyPageIsThereAndItsParametersAreTakenByTheCallsBehindIt() {
    List<String> pages = found("`(/(?:lots|tracker)[^`]*)`");
    assertThat(pages).hasSizeGreaterThan(QUESTIONS);
    for (String page : pages) {
      answers(page);
      if (page.startsWith("/lots/compare")) {
        answers(page.replace("/lots/compare", "/api/lot-comparison"));
      }
    }
  }

  @Test
  void everyCommandDoesWhatTheGuideSays() throws IOException {
    List<String> commands = new ArrayList<>(found("`(soakbench [^`]+|curl [^`]+)`"));
    assertThat(commands).hasSize(QUESTIONS);
    for (String command : commands) {
      String[] words = command.replace("\"", "").split(" ");
      if (words[0].equals("curl")) {
        assertThat(words[1]).startsWith(LOCAL);
        answers(words[1].substring(LOCAL.length()));
      } else {
        assertThat(said(words).lines().count()).as(command).isGreaterThan(5);
      }
    }
  }

  @Test
  void theCommandsThatMakeTheLotsAreThoseOfTheProgram() {
    for (String command : found("^    soakbench (.+)$")) {
      CommandLine line = Main.commandLine();
      assertThat(line.parseArgs(command.split(" ")).hasSubcommand()).as(command).isTrue();
    }
  }

  /** Runs a command against this service in place of the local one. */
  private static String said(String... words) {
    StringWriter out = new StringWriter();
    CommandLine line = Main.commandLine();
    line.setOut(new PrintWriter(out, true));
    List<String> args = new ArrayList<>(List.of(words).subList(1, words.length));
    args.addAll(List.of("--to", service.http.base().toString()));
    assertThat(line.execute(args.toArray(String[]::new))).as("%s", args).isZero();
    return out.toString();
  }
}
