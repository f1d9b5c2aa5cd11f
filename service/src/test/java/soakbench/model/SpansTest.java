package soakbench.model;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Lengths of time in words, on both sides of each change of unit. */
class SpansTest {

  @ParameterizedTest
  @CsvSource({
    "0, 0 s",
    "119.4, 119 s",
    "120, 2 min",
    "7199, 120 min",
    "7200, 2 h",
    "172799, 48 h",
    "172800, 2 days",
    "63115200, 2 years",
    "63115200000, '2,000 years'"
  })
  void theLargestUnitIsThatOfWhichThereAreTwo(double seconds, String words) {
    assertThat(Spans.inLargest(seconds)).isEqualTo(words);
  }

  @ParameterizedTest
  @CsvSource({
    "0, 0 s",
    "59.4, 59 s",
    "59.6, 60 s",
    "119.4, 119 s",
    "119.9, 120 s",
    "120, 2 min",
    "299, 5 min",
    "9000, 150 min"
  })
  void minutesAreCountedHoweverManyThereAre(double seconds, String words) {
    assertThat(Spans.inMinutes(seconds)).isEqualTo(words);
  }

  @ParameterizedTest
  @CsvSource({
    "0, 0 s",
    "59, 59 s",
    "60, 1 min 0 s",
    "723, 12 min 3 s",
    "3599, 59 min 59 s",
    "3600, 1 h 0 min",
    "-12000, 3 h 20 min",
    "86399, 23 h 59 min",
    "86400, 1 day 0 h",
    "863999, 9 days 23 h"
  })
  void twoUnitsTellALengthToTheSecondBelowAnHour(long seconds, String words) {
    assertThat(Spans.inTwoUnits(seconds)).isEqualTo(words);
  }
}
