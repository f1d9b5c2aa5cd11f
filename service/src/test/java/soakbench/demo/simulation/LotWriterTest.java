package soakbench.demo.simulation;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import soakbench.demo.lines.LineStream;
import soakbench.ingest.rackfile.LineSettings;
import soakbench.ingest.source.Recording;

class LotWriterTest {
  private static final Instant START = Instant.parse("2026-01-05T08:00:00Z");

  @TempDir private Path folder;

  private static LotOptions options(long seed, int units, int soaks, Map<String, Double> lots) {
    return new LotOptions(
        lots,
        new LotOptions.Size(units, soaks, 2, 3, START, 60),
        new SimulateOptions.Lines(LineStream.Form.CSV, LineStream.Stamp.ARRIVAL, 1),
        seed);
  }

  private Path write(String name, LotOptions options) throws IOException {
    Path into = folder.resolve(name);
    List<Path> files = new ArrayList<>();
    assertThat(LotWriter.write(options, into, files::add)).isEqualTo(files.size());
    return into;
  }

  @Test
  void unitsScatterAboutOneLawAsTheirLotsOptionSays() throws IOException {
    Path into = write("lots", options(3, 40, 1, Map.of("Barley-2", 1.0, "Thistle-5", 4.0)));
    JsonNode truth = new ObjectMapper().readTree(into.resolve("lots.truth.json").toFile());
    for (JsonNode lot : truth.get("lots")) {
      double sum = 0;
      double square = 0;
      int count = 0;
      for (JsonNode unit : lot.get("units")) {
        for (int axis = 0; axis < 3; axis++) {
          double off =
              unit.get("tempco_31c_dps_per_c").get(axis).asDouble()
                  - truth.get("law_31c_dps_per_c").get(axis).asDouble();
          sum += off;
          square += off * off;
          count++;
        }
      }
      double sd = LotWriter.SPREAD_DPS_PER_C * lot.get("spread_factor").asDouble();
      // Of 120 draws: four standard errors of a standard deviation, and of a mean.
      assertThat(Math.sqrt(square / count) / sd).isBetween(1 - 4 / 15.5, 1 + 4 / 15.5);
      assertThat(Math.abs(sum / count)).isLessThan(4 * sd / Math.sqrt(count));
    }
  }

  @Test
  void soaksLieOnTheirDaysUnitsOnTheirBenchesAndEachIsARecording() throws IOException {
    Path into = write("soaks", options(5, 3, 3, Map.of("Barley-2", 1.0)));
    Set<Instant> starts = new TreeSet<>();
    for (int soak = 1; soak <= 3; soak++) {
      Path file = into.resolve("Barley-2/Barley-2-001-soak" + soak + ".csv.gz");
      long startUs = Recording.startUs(file, LineSettings.NONE);
      starts.add(Instant.ofEpochSecond(startUs / 1_000_000 / 3600 * 3600));
      assertThat(into.resolve("Barley-2/Barley-2-001-soak" + soak + ".truth.json")).exists();
    }
    assertThat(starts)
        .containsExactly(START, START.plusSeconds(3 * 3600), START.plusSeconds(86_400));
    assertThat(Files.readAllLines(into.resolve("roster.csv")))
        .containsExactly(
            "id,lot,rack,slot",
            "Barley-2-001,Barley-2,bench-1,1",
            "Barley-2-002,Barley-2,bench-2,2",
            "Barley-2-003,Barley-2,bench-3,3");
  }

  @Test
  void theSameSeedWritesTheSameBytesAndAUnitIsTheSameWhateverIsBesideIt() throws IOException {
    Path one = write("one", options(9, 2, 1, Map.of("Barley-2", 1.0)));
    Path more = write("more", options(9, 3, 2, Map.of("Barley-2", 1.0)));
    Path other = write("other", options(10, 2, 1, Map.of("Barley-2", 1.0)));
    String file = "Barley-2/Barley-2-002-soak1.csv.gz";
    assertThat(one.resolve(file)).hasSameBinaryContentAs(more.resolve(file));
    assertThat(Files.readAllBytes(one.resolve(file)))
        .isNotEqualTo(Files.readAllBytes(other.resolve(file)));
  }

  @Test
  void whatMakesNoSenseIsRefused() throws IOException {
    assertThatThrownBy(() -> options(1, 0, 1, Map.of("L", 1.0))).hasMessageContaining("0 units");
    assertThatThrownBy(() -> options(1, 1, 15, Map.of("L", 1.0)))
        .hasMessageContaining("more than 7 a day");
    assertThatThrownBy(() -> options(1, 1, 1, Map.of("L", -1.0)))
        .hasMessageContaining("spread of -1.0");
    assertThatThrownBy(() -> options(1, 1, 1, Map.of("a/b", 1.0)))
        .hasMessageContaining("names files");
    Path full = write("full", options(1, 1, 1, Map.of("L", 1.0)));
    assertThatThrownBy(() -> LotWriter.write(options(1, 1, 1, Map.of("L", 1.0)), full, f -> {}))
        .hasMessageContaining("is not empty");
  }
}
