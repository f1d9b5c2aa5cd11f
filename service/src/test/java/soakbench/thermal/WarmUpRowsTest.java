package soakbench.thermal;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

class WarmUpRowsTest {
  /** A degree a thousand seconds. */
  private static Temperatures ramp(int seconds) {
    double[] t = IntStream.range(0, seconds).mapToDouble(s -> s + 0.5).toArray();
    double[] c = Arrays.stream(t).map(s -> 20 + s / 1000).toArray();
    double[] ones = new double[seconds];
    Arrays.fill(ones, 1);
    return new Temperatures(t, c, ones);
  }

  @Test
  void rowsAreTwoSecondsAtFirstThenTenThenAMinute() {
    WarmUpRows rows = WarmUpRows.of(ramp(4200), 0, Double.POSITIVE_INFINITY);
    assertThat(rows.size()).isEqualTo(150 + 330 + 10);
    assertThat(rows.timeS()[0]).isEqualTo(1);
    assertThat(rows.timeS()[150]).isCloseTo(305, within(1e-9));
    assertThat(rows.timeS()[480]).isCloseTo(3630, within(1e-9));
    assertThat(rows.weight()[0]).isEqualTo(2);
    assertThat(rows.weight()[150]).isEqualTo(10);
    assertThat(rows.weight()[489]).isEqualTo(60);
    assertThat(Arrays.stream(rows.weight()).sum()).isEqualTo(4200);
    for (int i = 0; i < rows.size(); i++) {
      assertThat(rows.temperatureC()[i]).isCloseTo(20 + rows.timeS()[i] / 1000, within(1e-9));
    }
  }

  @Test
  void aStretchHasItsOwnTimeAndEndsBeforeItsEnd() {
    WarmUpRows rows = WarmUpRows.of(ramp(1000), 400, 500);
    assertThat(rows.timeS()[0]).isEqualTo(1);
    assertThat(rows.temperatureC()[0]).isCloseTo(20.401, within(1e-9));
    assertThat(rows.size()).isEqualTo(50);
    assertThat(rows.spanS()).isEqualTo(98);
  }

  @Test
  void aRowIsTheMeanByTheSecondsThatItsReadingsStandFor() {
    Temperatures soak =
        new Temperatures(new double[] {0, 1}, new double[] {20, 26}, new double[] {1, 2});
    WarmUpRows rows = WarmUpRows.of(soak, 0, 10);
    assertThat(rows.size()).isEqualTo(1);
    assertThat(rows.temperatureC()[0]).isCloseTo(24, within(1e-12));
    assertThat(rows.timeS()[0]).isCloseTo(2 / 3.0, within(1e-12));
    assertThat(rows.spanS()).isZero();
  }

  @Test
  void whatLiesBetweenKeepsItsTimes() {
    WarmUpRows part = WarmUpRows.of(ramp(600), 0, 600).between(150, 310);
    assertThat(part.timeS()).startsWith(151).endsWith(305);
    assertThat(part.changeC()).isCloseTo((300.2 - 156) / 1000, within(0.002));
    assertThat(part.between(1000, 2000).size()).isZero();
    assertThat(part.between(1000, 2000).spanS()).isZero();
  }
}
