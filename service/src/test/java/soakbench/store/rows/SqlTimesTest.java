package soakbench.store.rows;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.time.OffsetDateTime;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class SqlTimesTest {
  /** Seconds of well-known moments, from RFC 3339 texts. */
  @ParameterizedTest
  @CsvSource({
    "1970-01-01T00:00:00Z, 0",
    "2000-01-01T00:00:00.000001Z, 946684800000001",
    "1969-12-31T23:59:59.999999Z, -1",
    "9999-12-31T23:59:59.999999Z, 253402300799999999"
  })
  void aTimeIsTheSameToTheMicrosecondBothWays(String text, long us) {
    OffsetDateTime time = OffsetDateTime.parse(text);
    assertThat(SqlTimes.us(time)).isEqualTo(us);
    assertThat(SqlTimes.time(us)).isEqualTo(time);
    assertThat(SqlTimes.since2000Us(us)).isEqualTo(us - 946_684_800_000_000L);
  }

  @Test
  void aBoundBeyondAllYearsIsInfiniteAndATimeThereIsRefused() {
    assertThat(SqlTimes.bound(Long.MIN_VALUE)).isEqualTo(OffsetDateTime.MIN);
    assertThat(SqlTimes.bound(Long.MAX_VALUE)).isEqualTo(OffsetDateTime.MAX);
    assertThat(SqlTimes.secondBound(Long.MIN_VALUE)).isEqualTo(OffsetDateTime.MIN);
    assertThat(SqlTimes.secondBound(Long.MAX_VALUE)).isEqualTo(OffsetDateTime.MAX);
    assertThat(SqlTimes.secondBound(0)).isEqualTo(SqlTimes.time(0));
    assertThatThrownBy(() -> SqlTimes.time(253_402_300_800_000_000L))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("outside the years 0 to 9999");
  }
}
