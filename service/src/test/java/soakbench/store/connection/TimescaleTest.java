package soakbench.store.connection;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class TimescaleTest {
  @ParameterizedTest
  @CsvSource({
    "2.18.1, 2.18.1, 0",
    "2.9.3, 2.18.1, -1",
    "2.18, 2.18.1, -1",
    "2.22.0, 2.18.1, 1",
    "2.22.0-dev, 2.18.1, 1",
    "3.0.0, 2.18.1, 1"
  })
  void versionsAreComparedByTheirNumbers(String left, String right, int sign) {
    assertThat(Integer.signum(Timescale.compare(left, right))).isEqualTo(sign);
  }
}
