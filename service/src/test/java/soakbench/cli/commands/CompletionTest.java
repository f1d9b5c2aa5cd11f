package soakbench.cli.commands;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIf;
import org.junit.jupiter.api.io.TempDir;
import picocli.CommandLine;
import soakbench.cli.Main;

/** The script that lets a shell complete, in a real one. */
@EnabledIf(value = "bashIsThere", disabledReason = "bash is not there")
class CompletionTest {
  @TempDir private Path folder;

  static boolean bashIsThere() {
    return Files.isExecutable(Path.of("/bin/bash"));
  }

  private String completed(String... words) throws Exception {
    StringWriter out = new StringWriter();
    CommandLine line = Main.commandLine().setOut(new PrintWriter(out, true));
    assertThat(line.execute("completion")).isZero();
    Path script = Files.writeString(folder.resolve("soakbench.sh"), out.toString());
    String asked =
        "source "
            + script
            + " || exit 9; COMP_WORDS=(soakbench \"$@\"); COMP_CWORD=$#; $(complete -p soakbench |"
            + " sed 's/.*-F \\([^ ]*\\).*/\\1/'); echo \"${COMPREPLY[@]}\"";
    ProcessBuilder bash = new ProcessBuilder("/bin/bash", "-c", asked, "bash");
    bash.command().addAll(java.util.List.of(words));
    Process process = bash.redirectError(ProcessBuilder.Redirect.DISCARD).start();
    String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    assertThat(process.waitFor(20, TimeUnit.SECONDS)).isTrue();
    assertThat(process.exitValue()).as(said).isZero();
    return said;
  }

  @Test
  void commandsAndOptionsAreCompleted() throws Exception {
    assertThat(completed("im").strip()).isEqualTo("import");
    assertThat(completed("import", "--go").strip()).isEqualTo("--go-on");
    assertThat(completed("simulate", "--mix", "").split("\\s+")).contains("CLEAN", "NASTY");
  }
}
