package soakbench.demo.unit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;
import soakbench.demo.unit.Correction.Kind;

class CorrectionTest {

  @ParameterizedTest
  @EnumSource(Kind.class)
  void whatIsLeftOpenIsTheUsualTimeConstantWhereThereIsOne(Kind kind) {
    double usualS = Correction.of(kind, null).timeConstantS();
    assertThat(usualS).isEqualTo(kind.name().startsWith("FOLLOWS") ? Correction.USUAL_S : 0);
  }

  @ParameterizedTest
  @ValueSource(doubles = {0, 0.99, 3600.01, Double.NaN})
  void aTimeConstantOutsideIsRefusedWithItsRange(double timeConstantS) {
    assertThatThrownBy(() -> Correction.of(Kind.FOLLOWS, timeConstantS))
        .hasMessageContaining("outside 1 to 3600");
  }

  @Test
  void aTimeConstantOfWhatFollowsNothingIsRefused() {
    assertThatThrownBy(() -> Correction.of(Kind.AT_BOOT, 60.0)).hasMessageContaining("at_boot");
    assertThat(Correction.of(Kind.FOLLOWS, 3600.0).hidesDrift()).isTrue();
    assertThat(Correction.of(Kind.STORED).hidesDrift()).isFalse();
  }
}
