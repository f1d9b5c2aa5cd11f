package soakbench.demo.unit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import soakbench.demo.Recipes;
import soakbench.demo.simulation.Recipe;
import soakbench.demo.simulation.SimulateOptions;
import soakbench.demo.simulation.SimulateRun;
import soakbench.demo.unit.Correction.Kind;

/** Noiseless trackers, so that what is taken off shows by itself. */
class CorrectorTest {
  private static final Heating STEADY = Heating.steady(31, 31, 0, 20, 500);

  @TempDir Path folder;

  private static List<Double> rates(Correction correction, Events events) {
    SimulatedUnit unit = Recipes.unit(Recipes.silentAxis(0.3));
    Recipe recipe = Recipes.run(unit, STEADY, events, 600).with(correction);
    return Recipes.lines(recipe).stream()
        .map(line -> line.split("gyro_dps\":\\[")[1].split(",")[0])
        .map(Double::valueOf)
        .toList();
  }

  @Test
  void whatIsNotCorrectedKeepsItsBias() {
    assertThat(rates(Correction.NONE, Events.NONE)).containsOnly(0.3);
  }

  @Test
  void aLowPassThatStartsAtNothingTakesTheBiasOffByItsTimeConstant() {
    List<Double> rates = rates(new Correction(Kind.FOLLOWS_FROM_NOTHING, 60), Events.NONE);
    // After the two seconds in which it makes sure that it lies still.
    assertThat(rates.get(620)).isBetween(0.3 * Math.exp(-1) - 0.004, 0.3 * Math.exp(-1) + 0.004);
    assertThat(rates.get(5990)).isBetween(-1e-3, 1e-3);
  }

  @Test
  void aZeroOfPowerOnStaysUntilTheNext() {
    List<Double> rates = rates(Correction.of(Kind.AT_BOOT), Events.NONE);
    assertThat(rates.get(0)).isEqualTo(0.3);
    assertThat(rates.subList(11, rates.size())).allMatch(r -> Math.abs(r) < 1e-4);
  }

  @Test
  void aZeroOfRestComesAfterEachMotion() {
    Motion motion = new Motion(200, 206, Motion.Kind.BURST, new double[] {1, 0, 0}, 0, 0);
    List<Double> rates =
        rates(
            Correction.of(Kind.AFTER_MOTION),
            new Events(List.of(motion), List.of(), List.of(), List.of()));
    assertThat(rates.get(0)).isEqualTo(0.3);
    assertThat(rates.subList(80, 1990)).allMatch(r -> Math.abs(r) < 1e-4);
    assertThat(rates.subList(2140, rates.size())).allMatch(r -> Math.abs(r) < 1e-4);
  }

  @Test
  void theTruthFileNamesIt() throws Exception {
    Path file = folder.resolve("truth.json");
    SimulateOptions options = SimulateOptions.usual(3).withCorrection(Correction.follows(60));
    SimulateRun.write(options, java.io.OutputStream.nullOutputStream(), file);
    JsonNode correction = new ObjectMapper().readTree(file.toFile()).at("/trackers/0/correction");
    assertThat(correction.get("kind").asText()).isEqualTo("follows");
    assertThat(correction.get("time_constant_s").asDouble()).isEqualTo(60);
    assertThat(correction.get("hides_drift").asBoolean()).isTrue();
  }

  @Test
  void aTimeConstantIsAskedForWhereThereIsOne() {
    assertThatThrownBy(() -> Correction.of(Kind.FOLLOWS)).hasMessageContaining("outside 1 to 3600");
    assertThatThrownBy(() -> new Correction(Kind.CONSTANT, 20)).hasMessageContaining("constant");
  }
}
