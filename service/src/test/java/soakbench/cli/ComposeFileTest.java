package soakbench.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatCode;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.yaml.snakeyaml.LoaderOptions;
import org.yaml.snakeyaml.Yaml;
import org.yaml.snakeyaml.constructor.SafeConstructor;

/** The file that starts database and service in containers, as far as it can be looked at here. */
class ComposeFileTest {
  private static final Path ROOT = Path.of("..").toAbsolutePath().normalize();
  private static final String DIGEST = ".+:[\\w.-]+@sha256:[0-9a-f]{64}";
  private static final Pattern SECRET = Pattern.compile("PASSWORD|TOKEN|SECRET|KEY");
  private static final Pattern CALL = Pattern.compile("soakbench\\.jar ([^>\\n]*)");
  private static final Map<String, Object> ALL = read();

  private record Named(String name, Map<String, Object> its) {
    Object get(String key) {
      return its.get(key);
    }

    List<String> list(String key) {
      return ((List<?>) its.getOrDefault(key, List.of())).stream().map(String::valueOf).toList();
    }

    @Override
    public String toString() {
      return name;
    }
  }

  private static Map<String, Object> read() {
    try {
      return new Yaml(new SafeConstructor(new LoaderOptions()))
          .load(Files.readString(ROOT.resolve("docker-compose.yml")));
    } catch (IOException e) {
      throw new AssertionError(e);
    }
  }

  @SuppressWarnings("unchecked")
  private static Map<String, Object> map(Object of) {
    return (Map<String, Object>) of;
  }

  static Stream<Named> services() {
    return map(ALL.get("services")).entrySet().stream()
        .map(e -> new Named(e.getKey(), map(e.getValue())));
  }

  @ParameterizedTest
  @MethodSource("services")
  void eachServiceHasNoMoreThanItNeeds(Named service) {
    assertThat(service.get("init")).isEqualTo(true);
    assertThat(service.get("read_only")).isEqualTo(true);
    assertThat(service.list("cap_drop")).containsExactly("ALL");
    assertThat(service.get("cap_add")).isNull();
    assertThat(service.get("privileged")).isNull();
    assertThat(service.list("security_opt")).contains("no-new-privileges:true");
    assertThat(service.list("tmpfs"))
        .isNotEmpty()
        .allMatch(t -> t.contains("size=") && t.contains("noexec"));
    assertThat((Integer) service.get("pids_limit")).isPositive();
    assertThat(service.get("cpus")).isNotNull();
    assertThat(bytes((String) service.get("mem_limit"))).isPositive();
    assertThat(service.get("memswap_limit")).isEqualTo(service.get("mem_limit"));
    assertThat(map(map(service.get("logging")).get("options")))
        .containsKeys("max-size", "max-file");
  }

  @ParameterizedTest
  @MethodSource("services")
  void eachComesFromBytesThatAreNamedAndComesBack(Named service) throws IOException {
    if (service.get("build") == null) {
      assertThat((String) service.get("image")).matches(DIGEST);
    } else {
      Path docker = ROOT.resolve((String) service.get("build")).resolve("Dockerfile");
      assertThat(Files.readAllLines(docker))
          .filteredOn(line -> line.startsWith("FROM "))
          .isNotEmpty()
          .allMatch(line -> line.matches("FROM " + DIGEST));
      assertThat(Files.readString(docker)).contains("\nUSER soakbench\n");
    }
    boolean ends = "no".equals(service.get("restart"));
    assertThat(service.get("restart")).isIn("unless-stopped", "no");
    assertThat(service.get("healthcheck") == null).isEqualTo(ends);
    assertThat(ends).isEqualTo(service.list("profiles").contains("demo"));
  }

  @ParameterizedTest
  @MethodSource("services")
  void noSecretStandsInTheEnvironmentAndNoPortIsOpenToOthers(Named service) {
    Map<String, Object> secrets = map(ALL.get("secrets"));
    map(service.get("environment"))
        .forEach(
            (name, value) -> {
              if (SECRET.matcher(name).find()) {
                assertThat(name).endsWith("_FILE");
                String secret = value.toString().replace("/run/secrets/", "");
                assertThat(service.list("secrets")).contains(secret);
                assertThat(secrets).containsKey(secret);
              }
            });
    assertThat(service.list("ports")).allMatch(p -> p.matches("127\\.0\\.0\\.1:\\d+:8094"));
    assertThat(map(ALL.get("networks")))
        .containsKeys(service.list("networks").toArray(String[]::new));
  }

  @Test
  void theDatabaseReachesNobodyElse() {
    Named database = services().filter(s -> s.name().equals("database")).findFirst().orElseThrow();
    assertThat(database.list("networks")).containsExactly("inner");
    assertThat(map(map(ALL.get("networks")).get("inner")).get("internal")).isEqualTo(true);
    assertThat(database.get("ports")).isNull();
    assertThat(database.get("user")).isEqualTo("postgres");
  }

  @ParameterizedTest
  @MethodSource("services")
  void theHeapOfAProgramLeavesRoomForTheRestOfIt(Named service) {
    Object options = map(service.get("environment")).get("JAVA_TOOL_OPTIONS");
    assertThat(options == null).isEqualTo(service.get("build") == null);
    if (options != null) {
      String heap = options.toString().replaceFirst(".*-Xmx(\\w+).*", "$1");
      assertThat(bytes(heap)).isLessThanOrEqualTo(bytes((String) service.get("mem_limit")) / 2);
    }
  }

  @ParameterizedTest
  @MethodSource("services")
  void everyCommandOfOursIsOneThatTheProgramTakes(Named service) {
    List<String[]> calls = new ArrayList<>();
    if (service.get("entrypoint") != null) {
      String script = String.join(" ", service.list("command")).replace("\\\n", "");
      CALL.matcher(script)
          .results()
          .map(call -> call.group(1).replaceAll("\\$\\$\\(.*\\)", "2026-03-01T08:00:00Z"))
          .map(call -> call.replace("$$n", "1").replace("\"", "").strip().split("\\s+"))
          .forEach(calls::add);
      assertThat(calls).hasSize(2);
    } else if (service.get("build") != null) {
      calls.add(service.list("command").toArray(String[]::new));
    }
    for (String[] call : calls) {
      assertThatCode(() -> Main.commandLine().parseArgs(call))
          .as(Stream.of(call).collect(Collectors.joining(" ")))
          .doesNotThrowAnyException();
    }
  }

  private static long bytes(String size) {
    long number = Long.parseLong(size.substring(0, size.length() - 1));
    return number << (size.endsWith("g") ? 30 : 20);
  }
}
