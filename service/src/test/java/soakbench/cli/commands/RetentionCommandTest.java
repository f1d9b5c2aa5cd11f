package soakbench.cli.commands;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.PrintWriter;
import java.io.StringWriter;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import picocli.CommandLine;
import soakbench.api.Lines;
import soakbench.api.Service;
import soakbench.api.soaks.SoakTest;
import soakbench.cli.Main;

/** What the command prints of a running service. */
@ExtendWith(Service.Running.class)
class RetentionCommandTest {
  private static final String TRACKER = "R-open";

  private static String retention(Service service, String... args) {
    StringWriter out = new StringWriter();
    CommandLine line = Main.commandLine();
    line.setOut(new PrintWriter(out, true));
    String[] all = new String[args.length + 3];
    all[0] = "retention";
    all[1] = "--to";
    all[2] = service.http.base().toString();
    System.arraycopy(args, 0, all, 3, args.length);
    assertThat(line.execute(all)).isZero();
    return out.toString();
  }

  @Test
  void whatWouldGoAndWhatIsHeldIsSaidInWordsAndAsTheServiceAnswersIt(Service service)
      throws Exception {
    SoakTest.send(service, Lines.warmUp(TRACKER, Service.START_US, 3));
    service.execute("UPDATE soak SET stored = start_time WHERE tracker = ?", TRACKER);
    long now = service.nowUs.getAndSet(Service.START_US + 40L * 86_400_000_000L);
    try {
      assertThat(retention(service, "--days", "30"))
          .contains(
              "Of 30 days would go: nothing",
              "As old and held, open or not derived to the end: 1 soaks of 2026-03-01 to"
                  + " 2026-03-01, ")
          .containsPattern("Gone so far: (nothing|\\d)");
      assertThat(retention(service, "--days", "41", "--json"))
          .contains("\"days\":41", "\"held\":{\"soaks\":0,");
    } finally {
      service.nowUs.set(now);
    }
  }
}
