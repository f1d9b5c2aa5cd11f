package soakbench.lines;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class PatternSizeTest {

  /** Lower bounds counted by hand: how many single signs the pattern has, written out. */
  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "abc | 3",
        "a{5} | 5",
        "a{2,7} | 7",
        "(ab){10} | 20",
        "((ab){10}){10} | 200",
        "(a{10}){10} | 100",
        "(a?){30} | 30",
        "(a{3}?){30} | 90",
        "a{100}{100} | 10000",
        "(ab{50})?{100} | 5100",
        "(((x{9}){9}){9}){9} | 6561"
      })
  void itIsNeverLessThanThePatternWrittenOut(String pattern, long writtenOut) {
    assertThat(PatternSize.of(pattern)).isGreaterThanOrEqualTo(writtenOut);
  }

  @Test
  void whatRepeatsSingleSignsGrowsByTheirSumAndNotTheirProduct() {
    String line = "(?<temp_c>[0-9]{1,3}),(?<gx_dps>[0-9]{1,3}),(?<gy_dps>[0-9]{1,3})";
    assertThat(PatternSize.of(line)).isEqualTo(line.length() + 3 * 4);
  }

  @Test
  void aShortTextMayAskForMoreThanAnyMemory() {
    assertThat(PatternSize.of("((((a{999}){999}){999}){999}){999}")).isGreaterThan(1e15);
  }

  @Test
  void bracesThatCountNothingAreSigns() {
    assertThat(PatternSize.of("a{}")).isEqualTo(3);
    assertThat(PatternSize.of("a{,5}")).isEqualTo(5);
    assertThat(PatternSize.of("{3}")).isEqualTo(3 + 4);
  }
}
