package soakbench.store.rows;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.List;
import org.junit.jupiter.api.Test;
import soakbench.model.DeclaredRates;
import soakbench.model.LimitKey;
import soakbench.model.Limits;
import soakbench.model.Tracker.Rates;

/** Limits and told rates as columns of JSON. */
class JsonColumnsTest {
  @Test
  void limitsComeBackAndOneThatIsNotThereHasItsDefault() {
    assertThat(LimitsColumn.limits(LimitsColumn.text(Limits.DEFAULT))).isEqualTo(Limits.DEFAULT);
    assertThat(LimitsColumn.limits("{}")).isEqualTo(Limits.DEFAULT);
    Limits colder = LimitsColumn.limits("{\"band_low_c\":20.5,\"of_tomorrow\":1}");
    assertThat(colder.bandLowC()).isEqualTo(20.5);
    assertThat(LimitKey.values(colder))
        .containsEntry(LimitKey.BAND_HIGH_C, Limits.DEFAULT.bandHighC());
  }

  @Test
  void whatHoldsNoLimitsIsSaidToBeSo() {
    assertThatThrownBy(() -> LimitsColumn.limits("{\"band_low_c\":"))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("stored limits can't be read");
  }

  @Test
  void toldRatesComeBackByTheirSecondAndUnknownWordsAreNothingTold() {
    List<DeclaredRates> told =
        List.of(new DeclaredRates(5, Rates.RAW), new DeclaredRates(9, Rates.FOLLOWS));
    assertThat(RatesColumn.rates(RatesColumn.text(told))).isEqualTo(told);
    assertThat(RatesColumn.text(List.of())).isNull();
    assertThat(RatesColumn.rates(null)).isEmpty();
    assertThat(
            RatesColumn.rates(
                "[{\"from_second\":9,\"rates\":\"dreamt\"},{\"from_second\":5,\"rates\":\"raw\"},"
                    + "{\"from_second\":\"7\",\"rates\":\"raw\"}]"))
        .containsExactly(new DeclaredRates(5, Rates.RAW), new DeclaredRates(9, Rates.UNKNOWN));
    assertThat(RatesColumn.rates("[{\"from_second\":5,\"rates\":\"corrected\"}]"))
        .as("a word of before")
        .containsExactly(new DeclaredRates(5, Rates.UNKNOWN));
  }
}
