package soakbench.demo.simulation;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import de.siegmar.fastcsv.reader.CsvReader;
import de.siegmar.fastcsv.reader.NamedCsvRecord;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import soakbench.demo.Recipes;
import soakbench.demo.lines.LineStream;
import soakbench.demo.unit.Axis;
import soakbench.demo.unit.Events;
import soakbench.demo.unit.Heating;
import soakbench.demo.unit.Motion;
import soakbench.demo.unit.SimulatedUnit;
import soakbench.demo.unit.Span;

class SimulatedTrackerTest {
  private static final ObjectMapper JSON = new ObjectMapper();
  private static final Heating HEATING = Heating.steady(22, 31, 1.5, 25, 700);
  private static final SimulatedUnit QUIET = Recipes.unit(Recipes.silentAxis(0.2, 0.01));

  @ParameterizedTest
  @EnumSource(Mix.class)
  void theSameSeedGivesTheSameBytes(Mix mix) {
    SimulateOptions options = SimulateOptions.usual(77).withMix(mix);
    byte[] once = Recipes.bytes(RecipeGenerator.recipe(options));
    assertThat(once).isEqualTo(Recipes.bytes(RecipeGenerator.recipe(options)));
    byte[] other = Recipes.bytes(RecipeGenerator.recipe(SimulateOptions.usual(78).withMix(mix)));
    assertThat(once).isNotEqualTo(other);
  }

  @Test
  void cleanLinesCarryEveryKeyWithRisingTimesAndCounters() throws Exception {
    Recipe recipe = RecipeGenerator.recipe(SimulateOptions.usual(5).withMix(Mix.CLEAN));
    Instant before = Instant.EPOCH;
    long seq = 0;
    for (String line : Recipes.lines(recipe)) {
      JsonNode node = JSON.readTree(line);
      Instant time = Instant.parse(node.get("time").asText());
      assertThat(time).isAfter(before);
      before = time;
      assertThat(node.get("seq").asLong()).isEqualTo(seq++);
      assertThat(node.get("id").asText()).isEqualTo("SIM-5");
      assertThat(node.get("gyro_dps")).hasSize(3);
      assertThat(node.get("temp_c").asDouble()).isBetween(15.0, 40.0);
      assertThat(node.has("accel_g")).isEqualTo(recipe.unit().readout().hasAccelerometer());
    }
    assertThat(seq).isBetween(35_000L, 36_000L);
  }

  @Test
  void csvHasAHeaderAndAsManyFieldsInEachLine() {
    SimulateOptions options =
        SimulateOptions.usual(5)
            .withMix(Mix.CLEAN)
            .withLines(LineStream.Form.CSV, LineStream.Stamp.ARRIVAL);
    List<String> lines = Recipes.lines(RecipeGenerator.recipe(options));
    assertThat(lines.get(0)).startsWith("id,arrival,seq,t_ms,temp_c,gx_dps,gy_dps,gz_dps");
    List<NamedCsvRecord> records =
        CsvReader.builder().ofNamedCsvRecord(String.join("\n", lines)).stream().toList();
    assertThat(records).hasSize(lines.size() - 1);
    Instant before = Instant.EPOCH;
    for (NamedCsvRecord record : records) {
      Instant arrival = Instant.parse(record.getField("arrival"));
      assertThat(arrival).isAfterOrEqualTo(before);
      before = arrival;
      assertThat(Double.parseDouble(record.getField("gz_dps"))).isBetween(-3.0, 3.0);
    }
  }

  @Test
  void theThermometerFollowsTheChipInItsSteps() throws Exception {
    SimulatedUnit coarse = QUIET.withThermometer(0.5);
    Recipe recipe = Recipes.run(coarse, HEATING, Events.NONE, 1800);
    double[] truth = Truth.of(recipe).temperatureC();
    for (JsonNode node : parse(Recipes.lines(recipe))) {
      double read = node.get("temp_c").asDouble();
      assertThat(read * 2).isEqualTo(Math.rint(read * 2));
      int second = (int) (secondOf(node) + 0.5);
      assertThat(read).isCloseTo(truth[Math.min(second, 1800)], within(0.5));
    }
  }

  @Test
  void aThermometerThatIsReadEveryTenSecondsSaysTheSameBetween() throws Exception {
    SimulatedUnit slow = QUIET.withThermometer(0, 10);
    List<JsonNode> nodes = parse(Recipes.lines(Recipes.run(slow, HEATING, Events.NONE, 100)));
    List<Double> read = nodes.stream().map(n -> n.get("temp_c").asDouble()).distinct().toList();
    assertThat(nodes).hasSize(1000);
    assertThat(read).hasSize(10);
    assertThat(nodes.get(199).get("temp_c").asDouble()).isEqualTo(read.get(1));
  }

  @Test
  void aRebootStartsItsClockAndCounterAgainAfterASilence() throws Exception {
    Events events = new Events(List.of(), List.of(), List.of(new Span(100, 104)), List.of());
    List<JsonNode> nodes = parse(Recipes.lines(Recipes.run(QUIET, HEATING, events, 200)));
    JsonNode first = nodes.stream().filter(n -> secondOf(n) >= 100).findFirst().orElseThrow();
    assertThat(secondOf(first)).isCloseTo(104, within(0.11));
    assertThat(first.get("seq").asLong()).isZero();
    assertThat(first.get("t_ms").asLong()).isBetween(1000L, 4000L);
  }

  @Test
  void lostLinesLeaveAGapInTheCounter() throws Exception {
    Events events = new Events(List.of(), List.of(), List.of(), List.of(new Span(50, 60)));
    List<JsonNode> nodes = parse(Recipes.lines(Recipes.run(QUIET, HEATING, events, 100)));
    JsonNode first = nodes.stream().filter(n -> secondOf(n) >= 50).findFirst().orElseThrow();
    assertThat(secondOf(first)).isCloseTo(60, within(0.01));
    assertThat(first.get("seq").asLong()).isEqualTo(600);
  }

  @Test
  void theCounterOfMillisecondsWrapsAtThirtyTwoBits() throws Exception {
    LineStream stream =
        new LineStream(
            LineStream.Form.JSON_LINES,
            LineStream.Stamp.BOOT_ONLY,
            10,
            0,
            0,
            (1L << 32) - 5000,
            LineStream.Faults.NONE);
    List<JsonNode> nodes =
        parse(Recipes.lines(Recipes.run(QUIET, HEATING, Events.NONE, stream, 10)));
    assertThat(nodes.get(49).get("t_ms").asLong()).isEqualTo((1L << 32) - 100);
    assertThat(nodes.get(50).get("t_ms").asLong()).isZero();
    assertThat(nodes.get(0).has("time")).isFalse();
  }

  @Test
  void aDirtyTrackerStillPrintsMostlyGoodLines() {
    Recipe recipe = RecipeGenerator.recipe(SimulateOptions.usual(9).withMix(Mix.NASTY));
    List<String> lines = Recipes.lines(recipe);
    long good = lines.stream().filter(SimulatedTrackerTest::isSample).count();
    assertThat(good).isGreaterThan((long) (0.98 * lines.size()));
    assertThat(lines.size() - good).isGreaterThan(30);
    assertThat(lines).anyMatch(line -> line.contains("999.9") || line.contains("987654"));
  }

  @Test
  void beingTurnedOverMovesTheBiasByGravityAndTheEarth() throws Exception {
    Axis axis =
        new Axis(
            new double[] {0.1, 0, 0, 0},
            0,
            new double[] {0, 0, 0.006},
            Axis.Settling.NONE,
            new Axis.Noise(0, 0, 0));
    Motion over = new Motion(100, 106, Motion.Kind.BURST, new double[] {1, 0, 0}, 180, 0);
    Events events = new Events(List.of(over), List.of(), List.of(), List.of());
    List<JsonNode> nodes =
        parse(Recipes.lines(Recipes.run(Recipes.unit(axis), HEATING, events, 200)));
    assertThat(gyro(nodes.get(0))).containsExactly(new double[] {0.1, 0.1, 0.1}, within(1e-5));
    double earthUpDps = 0.004178 * Math.sin(Math.toRadians(52));
    JsonNode last = nodes.get(nodes.size() - 1);
    double[] expected = {0.1 - 0.012, 0.1 - 0.012, 0.1 - 0.012 - 2 * earthUpDps};
    assertThat(gyro(last)).containsExactly(expected, within(2e-5));
    assertThat(last.get("accel_g").get(2).asDouble()).isCloseTo(-1, within(0.02));
  }

  @Test
  void aSlowTurnAddsUpToItsAngleAndGravityFollows() throws Exception {
    Motion turn = new Motion(100, 140, Motion.Kind.TURN, new double[] {0, 1, 0}, 60, 0);
    Events events = new Events(List.of(turn), List.of(), List.of(), List.of());
    SimulatedUnit unit = Recipes.unit(Recipes.silentAxis(0));
    List<JsonNode> nodes = parse(Recipes.lines(Recipes.run(unit, HEATING, events, 200)));
    double turned = nodes.stream().mapToDouble(n -> gyro(n)[1] / 10).sum();
    assertThat(turned).isCloseTo(60, within(0.2));
    JsonNode last = nodes.get(nodes.size() - 1);
    // Gravity turns the other way in the tracker's own frame.
    assertThat(last.get("accel_g").get(0).asDouble())
        .isCloseTo(-Math.sin(Math.toRadians(60)), within(0.02));
    assertThat(last.get("accel_g").get(2).asDouble()).isCloseTo(0.5, within(0.02));
  }

  private static double[] gyro(JsonNode node) {
    double[] out = new double[3];
    Arrays.setAll(out, i -> node.get("gyro_dps").get(i).asDouble());
    return out;
  }

  private static double secondOf(JsonNode node) {
    return Instant.parse(node.get("time").asText()).toEpochMilli() / 1e3 - Recipes.START_US / 1e6;
  }

  private static boolean isSample(String line) {
    try {
      return JSON.readTree(line).path("gyro_dps").size() == 3;
    } catch (JsonProcessingException e) {
      return false;
    }
  }

  private static List<JsonNode> parse(List<String> lines) throws JsonProcessingException {
    List<JsonNode> nodes = new ArrayList<>();
    for (String line : lines) {
      nodes.add(JSON.readTree(line));
    }
    return nodes;
  }
}
