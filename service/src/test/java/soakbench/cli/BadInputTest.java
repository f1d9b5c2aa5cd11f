package soakbench.cli;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.SplittableRandom;
import java.util.function.IntFunction;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import picocli.CommandLine;
import soakbench.FixedPoint;

/**
 * Recordings that are wrong in some way, judged as a person would: there is a verdict, or a
 * sentence that says why there can't be one. The good parts are a warm-up towards 31 degC with a
 * time constant of 500 s, fifteen minutes, ten lines a second.
 */
class BadInputTest {
  private static final int LINES = 9000;

  @TempDir private Path folder;
  private final SplittableRandom random = new SplittableRandom(8);

  /** One line: what is in it can be given as text, so that it can be no number. */
  private static String line(String id, double tS, String celsius, String rates) {
    Instant time = Instant.parse("2026-03-02T08:00:00Z").plusMillis(Math.round(tS * 1000));
    return "{\"id\":\""
        + id
        + "\",\"time\":\""
        + time
        + "\",\"temp_c\":"
        + celsius
        + ",\"gyro_dps\":["
        + rates
        + "]}\n";
  }

  private String good(double tS) {
    return line("T-1", tS, celsius(tS), rates());
  }

  private String celsius(double tS) {
    return number(31 - 8 * Math.exp(-tS / 500) + 0.01 * random.nextGaussian());
  }

  private String rates() {
    return number(0.3 + noise()) + "," + number(-0.1 + noise()) + "," + number(0.05 + noise());
  }

  private double noise() {
    return 0.02 * random.nextGaussian();
  }

  private static String number(double value) {
    return FixedPoint.text(value, 4);
  }

  private Path file(int lines, IntFunction<String> maker) throws IOException {
    StringBuilder text = new StringBuilder();
    for (int i = 0; i < lines; i++) {
      text.append(maker.apply(i));
    }
    return Files.writeString(folder.resolve("bad.jsonl"), text);
  }

  private record Said(int exit, String out, String err) {}

  private static Said run(String... args) {
    StringWriter out = new StringWriter();
    StringWriter err = new StringWriter();
    CommandLine line = Main.commandLine();
    line.setOut(new PrintWriter(out, true));
    line.setErr(new PrintWriter(err, true));
    return new Said(line.execute(args), out.toString(), err.toString());
  }

  private static String table(Path file) {
    Said said = run("replay", file.toString());
    assertThat(said.exit()).as(said.err()).isZero();
    assertThat(said.err()).isEmpty();
    assertThat(said.out()).doesNotContain("NaN ±", "Infinity ±", "Exception");
    return said.out();
  }

  /** The only soak, as programs get it. */
  private static JsonNode soak(Path file) throws IOException {
    return trackers(file).at("/0/soaks/0");
  }

  private static JsonNode trackers(Path file) throws IOException {
    Said said = run("replay", "--json", file.toString());
    assertThat(said.exit()).as(said.err()).isZero();
    return new ObjectMapper().readTree(said.out()).get("trackers");
  }

  private static void assertPlateau(JsonNode soak) {
    JsonNode plateau = soak.at("/warm_up/plateau_c");
    assertThat(plateau.get("low").asDouble()).isLessThan(31);
    assertThat(plateau.get("high").asDouble()).isGreaterThan(31);
    assertThat(plateau.get("value").asDouble()).isBetween(30.9, 31.1);
  }

  @Test
  void aTenthOfTheTemperaturesBeingNoNumberIsCountedAndTheRestJudged() throws IOException {
    // A quarter of them each: were one kind taken, fewer than 900 lines would be told.
    String[] none = {"NaN", "Infinity", "-Infinity", "1e400"};
    Path file =
        file(
            LINES,
            i -> i % 10 == 3 ? line("T-1", i / 10.0, none[i / 10 % 4], rates()) : good(i / 10.0));
    assertPlateau(soak(file));
    assertThat(table(file)).contains("bad.jsonl: 900 of 9000 lines not used; 900 ");
  }

  @ParameterizedTest
  @CsvSource({"NaN", "Infinity"})
  void whereNoLineIsANumberTheReasonIsTold(String none) throws IOException {
    Path file = file(300, i -> line("T-1", i / 10.0, "25.0", none + ",0.1,0.1"));
    Said said = run("replay", file.toString());
    assertThat(said.exit()).isNotZero();
    assertThat(said.err())
        .contains("300 of 300 lines not used", "gx_dps is " + none + " deg/s, outside -4000 to");
  }

  @Test
  void aConstantTemperatureHasNoCurve() throws IOException {
    Path file = file(LINES, i -> line("T-1", i / 10.0, "30.25", rates()));
    assertThat(table(file)).contains("warm-up: no curve: the temperature did not change");
    assertThat(soak(file).at("/bias_curve/reason").asText())
        .isEqualTo("no curve: the temperature did not change");
  }

  @Test
  void threeSamplesAreTooFew() throws IOException {
    assertThat(table(file(3, i -> good(i / 10.0))))
        .contains(
            "starting: too little heard yet: a minute is needed",
            "warm-up: no curve yet: only 1 s with a temperature",
            "bias curve: no curve: never still for 30 s",
            "noise: needs 64 s of lying still");
  }

  @Test
  void linesWithoutTemperatureSaySo() throws IOException {
    Path file =
        file(LINES, i -> line("T-1", i / 10.0, "25", rates()).replace("\"temp_c\":25,", ""));
    assertThat(table(file)).contains("warm-up: no curve: its lines carry no temperature");
  }

  @Test
  void timeThatGoesBackIsTakenOnce() throws IOException {
    // After 400 s the recording begins again at 100 s: a file joined to a copy of itself.
    Path file = file(LINES, i -> good((i < 4000 ? i : i - 3000) / 10.0));
    assertThat(table(file))
        .contains("3000 of 9000 lines not used; 3000 not rising (time ", " is not after ");
    JsonNode soak = soak(file);
    assertThat(soak.get("samples").asInt()).isEqualTo(6000);
    assertPlateau(soak);
  }

  @Test
  void aRecordingFromItsEndToItsBeginningIsNotJudged() throws IOException {
    assertThat(table(file(LINES, i -> good((LINES - i) / 10.0))))
        .contains("starting", "8999 bad time (time jumped to ", " and back to ");
  }

  @Test
  void duplicatesChangeNothing() throws IOException {
    String[] lines = new String[LINES];
    String once = table(file(LINES, i -> lines[i] = good(i / 10.0)));
    Path twice = file(2 * LINES, i -> lines[i / 2]);
    String rows = once.substring(0, once.indexOf("1 file, 1 soak"));
    assertThat(table(twice)).startsWith(rows).contains("9000 of 18000 lines not used");
  }

  @Test
  void linesOutOfOrderBySecondsAreNeverJudgedByTheirOrder() throws IOException {
    // Blocks of five seconds, each pair of them the wrong way round.
    Path file = file(LINES, i -> good((i / 50 % 2 == 0 ? i + 50 : i - 50) / 10.0));
    assertThat(table(file)).contains("not rising (time ");
    JsonNode soak = soak(file);
    assertPlateau(soak);
  }

  @Test
  void anHoursGapBeginsAnotherSoak() throws IOException {
    Path file = file(2 * LINES, i -> good(i / 10.0 + (i < LINES ? 0 : 3600)));
    JsonNode soaks = trackers(file).at("/0/soaks");
    JsonNode first = soaks.get(0);
    assertPlateau(first);
    assertThat(first.get("advice").isNull()).as("it fell silent").isTrue();
    assertThat(first.get("timeline").get(first.get("timeline").size() - 1).get("state").asText())
        .isEqualTo("silent");
    assertThat(soaks.get(1).get("samples").asInt()).isEqualTo(LINES);
  }

  @Test
  void anIdThatChangesHalfWayIsAnotherTracker() throws IOException {
    Path file =
        file(LINES, i -> line(i < LINES / 2 ? "T-1" : "T-2", i / 10.0, celsius(i / 10.0), rates()));
    assertThat(table(file)).contains("T-1  ", "T-2  ");
    JsonNode trackers = trackers(file);
    assertPlateau(trackers.at("/0/soaks/0"));
    assertPlateau(trackers.at("/1/soaks/0"));
    assertThat(trackers.at("/1/soaks/0/samples").asInt()).isEqualTo(LINES / 2);
  }

  @Test
  void fullScaleIsNoMotion() throws IOException {
    Path file = file(LINES, i -> line("T-1", i / 10.0, celsius(i / 10.0), "2000,-2000,0.1"));
    assertThat(table(file))
        .contains(
            "disturbed: can't say: its x axis reads 2000 °/s without a rest; look at the scale of"
                + " its lines, then at the unit")
        .contains("never ")
        .contains("bias curve: no curve: never still");
  }

  @Test
  void aBurstOfFullScaleIsOnlyABurst() throws IOException {
    Path file =
        file(
            LINES,
            i ->
                i > 3000 && i < 3100
                    ? line("T-1", i / 10.0, celsius(i / 10.0), "2000,-2000,2000")
                    : good(i / 10.0));
    JsonNode soak = soak(file);
    assertPlateau(soak);
    assertThat(soak.at("/bias_curve/reason").isNull()).isTrue();
    double tempco = soak.at("/bias_curve/axes/0/tempco_dps_per_c/value").asDouble();
    assertThat(tempco).as("it has none").isBetween(-0.005, 0.005);
  }

  @Test
  void garbageWithoutAnEndOfLineIsCountedWithAnExample() throws IOException {
    byte[] garbage = new byte[2_000_000];
    for (int i = 0; i < garbage.length; i++) {
      garbage[i] = (byte) random.nextInt();
    }
    Path file = Files.write(folder.resolve("garbage.jsonl"), garbage);
    Said said = run("replay", file.toString());
    assertThat(said.exit()).isNotZero();
    assertThat(said.err()).contains("holds no sample", "lines not used", "chatter", "such as");
    assertThat(said.err().lines().count()).isEqualTo(1);
    assertThat(said.err().getBytes(StandardCharsets.UTF_8).length).isLessThan(2000);
  }

  @Test
  void garbageBetweenGoodLinesCostsOnlyItself() throws IOException {
    byte[] noise = new byte[60];
    Path file =
        file(
            LINES,
            i -> {
              for (int k = 0; k < noise.length; k++) {
                noise[k] = (byte) (32 + random.nextInt(95));
              }
              String text = new String(noise, StandardCharsets.ISO_8859_1);
              return (i % 5 == 0 ? text + "\n" : "") + good(i / 10.0);
            });
    JsonNode soak = soak(file);
    assertThat(soak.get("samples").asInt()).isEqualTo(LINES);
    assertThat(soak.get("rejected").asInt()).isEqualTo(LINES / 5);
    assertPlateau(soak);
  }
}
