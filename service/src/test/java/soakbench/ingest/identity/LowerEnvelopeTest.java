package soakbench.ingest.identity;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Lines under points that are placed by hand. */
class LowerEnvelopeTest {
  private final LowerEnvelope envelope = new LowerEnvelope();

  @BeforeEach
  void begin() {
    envelope.restart(0, 0);
  }

  private void add(double... timesAndDelays) {
    for (int i = 0; i < timesAndDelays.length; i += 2) {
      envelope.add(timesAndDelays[i], timesAndDelays[i + 1]);
    }
  }

  @ParameterizedTest
  @CsvSource({"0", "20", "-50", "500", "-599"})
  void aClockWithoutDelaysIsMetExactly(double skewPpm) {
    for (int s = 1; s <= 100; s++) {
      add(s, skewPpm * s);
    }
    assertThat(envelope.slopePpm()).isCloseTo(skewPpm, within(1e-9));
    assertThat(envelope.delayUs(250)).isCloseTo(250 * skewPpm, within(1e-6));
  }

  @Test
  void delaysAboveTheLineMoveNothingAsTheyOnlyEverAdd() {
    for (int s = 1; s <= 100; s++) {
      add(s, 40 * s + (s % 10 == 0 ? 0 : 20_000 + 997 * (s % 7)));
    }
    assertThat(envelope.slopePpm()).isCloseTo(40, within(1e-9));
    assertThat(envelope.delayUs(0)).isCloseTo(0, within(1e-6));
  }

  /**
   * The hull of (0,0) (1,900) (2,100) (3,900) (4,800), mean time 2: the edge over it is from (0,0)
   * to (2,100), slope 50; with (5,350) and (6,400) the mean is 3 and the edge from (2,100) to
   * (6,400), slope 75.
   */
  @Test
  void theEdgeOverTheMeanTimeIsTheLine() {
    add(1, 900, 2, 100, 3, 900, 4, 800);
    assertThat(envelope.slopePpm()).isCloseTo(50, within(1e-9));
    add(5, 350, 6, 400);
    assertThat(envelope.slopePpm()).isCloseTo(75, within(1e-9));
    assertThat(envelope.delayUs(2)).isCloseTo(100, within(1e-9));
    assertThat(envelope.delayUs(6)).isCloseTo(400, within(1e-9));
  }

  @Test
  void ofEachSecondTheLowestPointCounts() {
    add(1.1, 500, 1.4, 60, 1.9, 700, 2, 400);
    assertThat(envelope.slopePpm()).isCloseTo(60 / 1.4, within(1e-9));
  }

  /** No line may lie above a point, so with its slope held it is lowered. */
  @Test
  void noCrystalIsSixHundredPartsInAMillionWrong() {
    add(10, -20_000, 20, -40_000);
    assertThat(envelope.slopePpm()).isEqualTo(-600);
    assertThat(envelope.delayUs(20)).isCloseTo(-40_000, within(1e-6));
    assertThat(envelope.delayUs(0)).isCloseTo(-28_000, within(1e-6));
  }

  @Test
  void whatIsOlderThanTenMinutesIsForgotten() {
    for (int s = 1; s <= 1300; s++) {
      add(s, 5_000 + 30 * s);
    }
    assertThat(envelope.slopePpm()).isCloseTo(30, within(1e-9));
    assertThat(envelope.delayUs(0)).isCloseTo(5_000, within(1e-6));
  }

  @Test
  void beginningAnewKeepsOnePointAndNoSlope() {
    add(1, 100, 2, 200);
    envelope.restart(50, 7_000);
    assertThat(envelope.slopePpm()).isZero();
    assertThat(envelope.delayUs(60)).isEqualTo(7_000);
  }
}
