package soakbench.demo.simulation;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.ByteArrayOutputStream;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import soakbench.demo.Recipes;
import soakbench.demo.lines.LineStream;
import soakbench.demo.unit.Events;

class SimulateRunTest {
  @TempDir Path folder;

  @Test
  void theLinesAndTheTruthAreOfTheSameTracker() throws Exception {
    ByteArrayOutputStream lines = new ByteArrayOutputStream();
    Path truth = folder.resolve("truth.json");
    SimulateOptions options = SimulateOptions.usual(12).withMix(Mix.NASTY);
    Recipe recipe = SimulateRun.write(options, lines, truth);
    assertThat(lines.toByteArray()).isEqualTo(Recipes.bytes(recipe));
    assertThat(new ObjectMapper().readTree(truth.toFile()).at("/trackers/0/tracker").asText())
        .isEqualTo("SIM-12");
  }

  @Test
  void theSameOptionsGiveTheSameLinesWithoutATruthFile() throws Exception {
    ByteArrayOutputStream once = new ByteArrayOutputStream();
    ByteArrayOutputStream again = new ByteArrayOutputStream();
    SimulateRun.write(SimulateOptions.usual(4), once, folder.resolve("truth.json"));
    SimulateRun.write(SimulateOptions.usual(4), again, null);
    assertThat(once.toByteArray()).isEqualTo(again.toByteArray());
  }

  @Test
  void aRunShorterThanItsMixesUsualEventsHasOnlySuchAsFitIn() {
    for (long seed = 0; seed < 50; seed++) {
      SimulateOptions nasty =
          SimulateOptions.usual(seed).withMix(Mix.NASTY).lasting(90).printing(5).named("A");
      Events events = RecipeGenerator.recipe(nasty).events();
      assertThat(events.motions()).allMatch(m -> m.toS() < 90);
      assertThat(events.uncoverings()).allMatch(l -> l.fromS() < 90);
      assertThat(events.powerOffs()).allMatch(o -> o.toS() < 90);
      assertThat(events.gaps()).allMatch(g -> g.fromS() < g.toS() && g.toS() <= 90);
    }
  }

  @Test
  void figuresOutsideTheirRangeAreNamed() {
    assertThatThrownBy(() -> options(0, 10, "A"))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("0.0 s");
    assertThatThrownBy(() -> options(60, 0.01, "A")).hasMessageContaining("0.01");
    assertThatThrownBy(() -> options(60, 10, "a b")).hasMessageContaining("\"a b\"");
  }

  private static SimulateOptions options(double durationS, double rateHz, String id) {
    return SimulateOptions.usual(1)
        .withMix(Mix.CLEAN)
        .lasting(durationS)
        .printing(rateHz)
        .withLines(LineStream.Form.CSV, LineStream.Stamp.TIME)
        .named(id)
        .withAccelerometer(true);
  }
}
