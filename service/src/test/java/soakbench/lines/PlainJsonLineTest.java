package soakbench.lines;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;

import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Plain JSON lines mean what the JSON library (Jackson) says they mean. */
class PlainJsonLineTest {
  private static final byte[][] GOOD =
      Stream.of(
              "{\"id\":\"T-1\",\"seq\":12,\"t_ms\":60000,\"temp_c\":24.31,"
                  + "\"gyro_dps\":[0.31,-0.12,0.05],\"accel_g\":[0.0,0.0,1.0]}",
              "{ \"id\" : \"T-1\", \"time\" :\"2026-01-31T12:00:00.020Z\",\"gyro_rads\": [0.1 , -0.2,0 ] }",
              "{\"t_ms\":0,\"boot\":\"b7\",\"temp_c\":-0.0,\"accel_ms2\":[0.0,0.1,9.81]}",
              "{\"temp_c\":24,\"temp_c\":25}")
          .map(line -> line.getBytes(UTF_8))
          .toArray(byte[][]::new);

  private final PlainJsonLine plain = new PlainJsonLine();
  private final ReadingDraft draft = new ReadingDraft();
  private final JsonLineForm form = new JsonLineForm();

  private boolean reads(byte[] line) {
    return plain.read(line, 0, line.length, draft.clear());
  }

  @Test
  void aMillionMutatedLinesThatItReadsSayTheSameAsByTheLibrary() {
    long seed = Long.getLong("soakbench.test.seed", System.nanoTime());
    System.out.println("PlainJsonLineTest: -Dsoakbench.test.seed=" + seed);
    LineMutations lines = new LineMutations(seed);
    int read = 0;
    for (int i = 0; i < 1_000_000; i++) {
      byte[] line = lines.mutated(GOOD);
      if (line.length > 0 && reads(line)) {
        read++;
        LineAnswer own = draft.finish();
        LineAnswer library = form.byLibrary(line, 0, line.length);
        if (!own.equals(library)) {
          assertThat(own).as(new String(line, UTF_8)).isEqualTo(library);
        }
      }
    }
    assertThat(read).as("lines that it read itself").isGreaterThan(20_000);
  }

  @Test
  void theLinesThatTrackersPrintAreReadWithoutTheLibrary() {
    for (byte[] line : GOOD) {
      assertThat(reads(line)).as(new String(line, UTF_8)).isTrue();
      assertThat(draft.finish()).isEqualTo(form.byLibrary(line, 0, line.length));
    }
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "{}",
        "{\"temp_c\":024.3}",
        "{\"temp_c\":-01}",
        "{\"temp_c\":1e3}",
        "{\"temp_c\":NaN}",
        "{\"temp_c\":null}",
        "{\"temp_c\":24.3,\"more\":1}",
        "{\"temp_c\":24.3,}",
        "{\"temp_c\":24.3} x",
        "{\"temp_c\":24.3}{",
        "{\"id\":\"T\\u0031\",\"temp_c\":24.3}",
        "{\"id\":12,\"temp_c\":24.3}",
        "{\"id\":\"T\u00e4\",\"temp_c\":24.3}",
        "{\"temp_held\":true,\"temp_c\":24.3}",
        "{\"gyro_dps\":[1,2]}",
        "{\"gyro_dps\":[1,2,3,4]}",
        "{\"temp_c\":24.3"
      })
  void anythingElseIsLeftToTheLibrary(String line) {
    assertThat(reads(line.getBytes(UTF_8))).isFalse();
  }
}
