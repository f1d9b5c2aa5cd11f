package soakbench.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.File;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.jar.Attributes;
import java.util.jar.JarOutputStream;
import java.util.jar.Manifest;
import java.util.stream.Collectors;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;

/** The script that starts the program, beside a jar that refers to the classes under test. */
@EnabledOnOs({OS.LINUX, OS.MAC})
class LauncherTest {
  @TempDir private Path folder;
  private Path launcher;

  @BeforeEach
  void putBesideAJar() throws IOException {
    launcher = folder.resolve("soakbench");
    Files.copy(Path.of("src/main/launcher/soakbench"), launcher);
    assertThat(launcher.toFile().setExecutable(true)).isTrue();
    Manifest manifest = new Manifest();
    Attributes of = manifest.getMainAttributes();
    of.put(Attributes.Name.MANIFEST_VERSION, "1.0");
    of.put(Attributes.Name.MAIN_CLASS, Main.class.getName());
    of.put(Attributes.Name.CLASS_PATH, classPath());
    try (OutputStream out = Files.newOutputStream(folder.resolve("soakbench.jar"))) {
      new JarOutputStream(out, manifest).close();
    }
  }

  private static String classPath() {
    return Arrays.stream(System.getProperty("java.class.path").split(File.pathSeparator))
        .map(part -> Path.of(part).toUri().toString())
        .collect(Collectors.joining(" "));
  }

  private record Ended(int exit, String said) {}

  private static Ended run(Path script, Map<String, String> variables, String... arguments)
      throws Exception {
    List<String> command = new ArrayList<>(List.of(script.toString()));
    command.addAll(List.of(arguments));
    ProcessBuilder builder = new ProcessBuilder(command).redirectErrorStream(true);
    builder.environment().put("JAVA_HOME", System.getProperty("java.home"));
    builder.environment().putAll(variables);
    Process process = builder.start();
    String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    return new Ended(process.waitFor(), said);
  }

  @Test
  void itStartsTheProgramAlsoThroughALinkInAnotherFolder() throws Exception {
    Path elsewhere = Files.createDirectory(folder.resolve("a folder"));
    Path link = Files.createSymbolicLink(elsewhere.resolve("sb"), launcher);
    Ended ended = run(link, Map.of(), "--version");
    assertThat(ended.said()).startsWith("soakbench ");
    assertThat(ended.exit()).isZero();
  }

  /** A script with other line ends may jump to a wrong place there. */
  @Test
  void theOneForWindowsHasItsLineEnds() throws IOException {
    String script = Files.readString(Path.of("src/main/launcher/soakbench.cmd"));
    assertThat(script).endsWith("\r\n").doesNotContainPattern("[^\r]\n");
  }

  @Test
  void theHeapIsBoundedAndCanBeRaised() throws Exception {
    Map<String, String> shown = Map.of("SOAKBENCH_JAVA", "-XX:+PrintFlagsFinal");
    assertThat(flag("MaxHeapSize", run(launcher, shown, "--version"))).isEqualTo(512L << 20);
    Map<String, String> more =
        Map.of("SOAKBENCH_JAVA", "-XX:+PrintFlagsFinal", "SOAKBENCH_HEAP", "1g");
    assertThat(flag("MaxHeapSize", run(launcher, more, "--version"))).isEqualTo(1L << 30);
  }

  @Test
  void theSecondCompilerStaysOutUnlessItIsAskedFor() throws Exception {
    Map<String, String> shown = Map.of("SOAKBENCH_JAVA", "-XX:+PrintFlagsFinal");
    assertThat(flag("TieredStopAtLevel", run(launcher, shown, "--version"))).isEqualTo(1);
    Map<String, String> both =
        Map.of("SOAKBENCH_JAVA", "-XX:+PrintFlagsFinal -XX:TieredStopAtLevel=4");
    assertThat(flag("TieredStopAtLevel", run(launcher, both, "--version"))).isEqualTo(4);
  }

  private static long flag(String name, Ended ended) {
    return ended
        .said()
        .lines()
        .filter(line -> line.contains(" " + name + " "))
        .map(line -> line.replaceFirst(".*=\\s*(\\d+) .*", "$1"))
        .mapToLong(Long::parseLong)
        .findFirst()
        .orElseThrow();
  }

  @Test
  void aFullHeapSaysHowToRaiseIt() throws Exception {
    Map<String, String> small = Map.of("SOAKBENCH_HEAP", "8m");
    Ended ended = run(launcher, small, "simulate", "--duration-s", "60");
    assertThat(ended.exit()).isNotZero();
    assertThat(ended.said()).contains("its heap of 8m is full; for more, set SOAKBENCH_HEAP=1g");
  }

  @Test
  void whatIsMissingIsSaid() throws Exception {
    Ended noJava = run(launcher, Map.of("JAVA_HOME", folder.resolve("none").toString()));
    assertThat(noJava.exit()).isEqualTo(127);
    assertThat(noJava.said()).contains("install Java 17 or set JAVA_HOME");
    Files.delete(folder.resolve("soakbench.jar"));
    Ended noJar = run(launcher, Map.of(), "demo");
    assertThat(noJar.exit()).isEqualTo(127);
    assertThat(noJar.said())
        .contains("there is no " + folder.toRealPath().resolve("soakbench.jar"));
  }
}
