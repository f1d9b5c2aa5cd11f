package soakbench.api;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.File;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * A linter of others has nothing to say against the description. What it is told to pass over
 * stands, with the reason, in {@code src/test/openapi-lint/lint.mjs}; there its version is pinned
 * too. It is installed below {@code target}, once.
 */
class OpenApiLintTest {
  private static final Path SOURCE = Path.of("src/test/openapi-lint");
  private static final Path INSTALLED = Path.of("target/openapi-lint");
  private static final String LOCK = "package-lock.json";

  /** Holds the lock of what was installed, once it was. */
  private static final Path DONE = INSTALLED.resolve("installed.json");

  private static final long PATIENCE_S = 120;

  @TempDir static Path folder;

  /** What a program printed, and how it ended. */
  private record Ended(int code, String text) {}

  @BeforeAll
  static void install() throws Exception {
    for (String needed : List.of("node", "npm")) {
      require(isThere(needed), needed + " is not there");
    }
    String version = run(SOURCE, "node", "--version").text().strip();
    require(
        version.matches("v(2\\d|[3-9]\\d)\\..*"), "node " + version + " is too old, it wants 20");
    Files.createDirectories(INSTALLED);
    for (String file : List.of("package.json", LOCK, "lint.mjs")) {
      Files.writeString(INSTALLED.resolve(file), Files.readString(SOURCE.resolve(file)));
    }
    String wanted = Files.readString(SOURCE.resolve(LOCK));
    if (!Files.exists(DONE) || !Files.readString(DONE).equals(wanted)) {
      Ended npm =
          run(
              INSTALLED,
              "npm",
              "ci",
              "--ignore-scripts",
              "--no-audit",
              "--no-fund",
              "--prefer-offline");
      require(npm.code() == 0, "it could not be installed: " + npm.text());
      Files.writeString(DONE, wanted);
    }
  }

  @Test
  void theLinterHasNothingToSay() throws Exception {
    Path described = Files.writeString(folder.resolve("openapi.json"), OpenApiCalls.json());
    assertThat(lint(described)).isEqualTo(new Ended(0, ""));
  }

  @Test
  void theLinterSaysWhatIsWrong() throws Exception {
    String unknown = "#/components/schemas/NoSuchThing";
    String broken = OpenApiCalls.json().replace("#/components/schemas/SoakList", unknown);
    Path described = Files.writeString(folder.resolve("broken.json"), broken);
    assertThat(lint(described).text()).contains("no-unresolved-refs #/paths/~1api~1soaks/get");
  }

  private static Ended lint(Path described) throws Exception {
    return run(INSTALLED, "node", "lint.mjs", described.toAbsolutePath().toString());
  }

  private static void require(boolean holds, String why) {
    if (!holds) {
      System.err.println("The description of the calls is not linted: " + why);
    }
    assumeTrue(holds, why);
  }

  private static boolean isThere(String program) {
    return List.of(System.getenv("PATH").split(File.pathSeparator)).stream()
        .anyMatch(folder -> Files.isExecutable(Path.of(folder, program)));
  }

  private static Ended run(Path in, String... command) throws Exception {
    Path output = Files.createTempFile(folder, "output", ".txt");
    Process process =
        new ProcessBuilder(command)
            .directory(in.toFile())
            .redirectErrorStream(true)
            .redirectOutput(output.toFile())
            .start();
    if (!process.waitFor(PATIENCE_S, TimeUnit.SECONDS)) {
      process.destroyForcibly();
    }
    return new Ended(process.waitFor(), Files.readString(output));
  }
}
