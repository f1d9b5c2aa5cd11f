package soakbench.lines;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.temporal.ChronoUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import soakbench.Drawn;

class Rfc3339Test {
  private static final long FROM_2000_S = 946_771_200L;
  private static final long TO_2100_S = 4_102_444_799L;

  /** As the library of the language reads it. */
  private static long expected(String text) {
    return ChronoUnit.MICROS.between(Instant.EPOCH, OffsetDateTime.parse(text).toInstant());
  }

  @Test
  void anyTimeWithAnyNumberOfDigitsIsReadToTheMicrosecond() {
    Drawn.cases(2000, this::timeIsRead);
  }

  private void timeIsRead(Drawn drawn) {
    int nanos = drawn.from(0, 999_999_999);
    int digits = drawn.from(0, 9);
    String whole =
        Instant.ofEpochSecond(drawn.from(FROM_2000_S, TO_2100_S)).toString().replace("Z", "");
    String fraction = digits == 0 ? "" : "." + "%09d".formatted(nanos).substring(0, digits);
    String text = whole + fraction + "Z";
    assertThat(Rfc3339.microseconds(text)).isEqualTo(expected(text));
    assertThat(Rfc3339.microseconds(whole + fraction + "+05:30"))
        .isEqualTo(expected(whole + fraction + "+05:30"));
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "2000-01-01T00:00:00Z",
        "2024-02-29T23:59:59.999999999Z",
        "2099-12-31T23:59:59.999999Z",
        "2026-01-01T08:00Z",
        "2026-01-01t08:00:00z",
        "2026-01-01T08:00:00.5-03:00"
      })
  void timesAtTheEdgesAndInOtherFormsAreRead(String text) {
    assertThat(Rfc3339.microseconds(text)).isEqualTo(expected(text));
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "1999-12-31T23:59:59.999999Z",
        "2100-01-01T00:00:00Z",
        "2300-01-01T00:00:00+01:00",
        "+999999999-01-01T00:00:00Z",
        "-999999999-01-01T00:00:00+18:00",
        "2026-02-29T00:00:00Z",
        "2026-00-10T00:00:00Z",
        "2026-13-10T00:00:00Z",
        "2026-01-32T00:00:00Z",
        "2026-01-10T24:00:00Z",
        "2026-01-10T00:60:00Z",
        "2026-01-10T00:00:60Z",
        "2026-01-10T00:00:00.0000000001Z",
        "2026-01-10T00:00:00.12a4Z",
        "2026-01-10T00:00:0٣Z",
        "2026-01-10T00:00:00",
        "2026/01/10T00:00:00Z",
        "2026-01-10"
      })
  void whatIsNoTimeOrOutsideTheCenturyIsNone(String text) {
    assertThat(Rfc3339.microseconds(text)).isEqualTo(Reading.NO_TIME);
  }
}
