package soakbench.readiness;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Numbers and heat as people read them. */
class WordsTest {
  @ParameterizedTest
  @CsvSource({"0.0021, 0.002", "0.0005, 0.001", "0.00049, under 0.001", "0, under 0.001"})
  void anUncertaintyThatRoundsToNothingIsToldAsWhatItStaysUnder(double half, String words) {
    assertThat(NumberWords.uncertainty(half, 3)).isEqualTo(words);
  }

  @Test
  void numbersHaveAPointWhateverTheLanguage() {
    assertThat(NumberWords.number(-1.25, 1)).isEqualTo("-1.3");
    assertThat(NumberWords.degrees(45)).isEqualTo("45.0 °C");
  }

  @Test
  void heatSaysWhatIsTooHotByWhichLimitAndWhatToDo() {
    Heat over = Heat.over(46.04, 45);
    assertThat(over.kind()).isEqualTo(Heat.Kind.HOT);
    assertThat(over.reason()).isEqualTo("46.0 °C is over 45.0 °C");
    assertThat(over.unit()).isEqualTo("degC");
    assertThat(over.passesAtUs()).isNull();
    assertThat(over.advice())
        .isEqualTo("uncover it now and keep to the cell maker's limits: 46.0 °C is over 45.0 °C");
    assertThat(Heat.over(45.04, 45).reason()).isEqualTo("45.0 °C is just over 45.0 °C");
  }

  @Test
  void aRiseIsToldByTheMinute() {
    Heat rising = Heat.rising(5.13, 5);
    assertThat(rising.reason()).isEqualTo("rising 5.1 °C/min, over 5.0");
    assertThat(rising.unit()).isEqualTo("degC/min");
    assertThat(rising.value()).isEqualTo(5.13);
  }

  @Test
  void whatOnlyHeadsForItIsToBeUncoveredSoon() {
    Heat heading = new Heat(Heat.Kind.HEADING_HOT, 48, 45, "heading for 48.0 ± 0.5 °C", 7L);
    assertThat(heading.advice())
        .isEqualTo("uncover it soon, off the charger: heading for 48.0 ± 0.5 °C");
    assertThat(heading.unit()).isEqualTo("degC");
  }
}
