package soakbench.live.kept;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.File;
import java.io.IOException;
import java.io.NotSerializableException;
import java.io.Serializable;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.function.DoubleSupplier;
import org.junit.jupiter.api.Test;
import soakbench.model.Estimate;

class ObjectFormTest {
  private static final ObjectForm PLAIN = new ObjectForm(Map.of());

  private static ArrayList<Object> list(Object... parts) {
    return new ArrayList<>(List.of(parts));
  }

  @Test
  void whatLivesOutsideIsGivenAgain() throws IOException {
    DoubleSupplier before = () -> 1;
    DoubleSupplier after = () -> 2;
    byte[] bytes = new ObjectForm(Map.of(DoubleSupplier.class, before)).written(list(before, 3));
    ObjectForm now = new ObjectForm(Map.of(DoubleSupplier.class, after));
    assertThat(now.read(bytes, ArrayList.class)).containsExactly(after, 3);
    assertThatThrownBy(() -> PLAIN.read(bytes, ArrayList.class)).isInstanceOf(IOException.class);
    assertThatThrownBy(() -> PLAIN.written(list(before)))
        .isInstanceOf(NotSerializableException.class);
  }

  @Test
  void onlyClassesOfThisProgramAreMade() throws IOException {
    Estimate ours = Estimate.of(1, 2, 3);
    assertThat(PLAIN.read(PLAIN.written(list(ours, "a")), ArrayList.class))
        .containsExactly(ours, "a");
    byte[] foreign = PLAIN.written(list(new File("a")));
    assertThatThrownBy(() -> PLAIN.read(foreign, ArrayList.class))
        .isInstanceOf(IOException.class)
        .hasMessageContaining("REJECTED");
    byte[] other = PLAIN.written("a");
    assertThatThrownBy(() -> PLAIN.read(other, ArrayList.class)).isInstanceOf(IOException.class);
  }

  /** Numbers are hardly compressed, so that most damage would go unnoticed but for a checksum. */
  @Test
  void noDamageIsRead() throws IOException {
    double[] numbers = new double[200];
    Arrays.setAll(numbers, i -> Math.sin(i));
    byte[] whole = PLAIN.written(list((Serializable) numbers));
    for (int at = 0; at < whole.length; at++) {
      byte[] damaged = whole.clone();
      damaged[at] ^= 4;
      assertThatThrownBy(() -> PLAIN.read(damaged, ArrayList.class))
          .isInstanceOf(IOException.class);
    }
    for (int length = 0; length < whole.length; length += 7) {
      byte[] part = Arrays.copyOf(whole, length);
      assertThatThrownBy(() -> PLAIN.read(part, ArrayList.class)).isInstanceOf(IOException.class);
    }
  }
}
