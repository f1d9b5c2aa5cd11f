package soakbench.ingest.identity;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import soakbench.lines.Reading;

/** Which of two sources of one id a datagram's line is of. */
class DuplicateIdDetectorTest {
  private final DuplicateIdDetector tracks = new DuplicateIdDetector();
  private long nowUs = 1_770_000_000_000_000L;

  private int of(long seq, long tMs, int port) {
    nowUs += 50_000;
    Reading line =
        new Reading(
            "T-1",
            new Reading.Stamps(Reading.NO_TIME, Reading.NO_TIME, seq, tMs, null),
            new Reading.Channels(25, port, seq, 0, 0, 0, 1));
    return tracks.of(line, port, nowUs);
  }

  @Test
  void aFreshPortForEachLineOrEachTenIsOneSource() {
    for (int i = 0; i < 500; i++) {
      assertThat(of(i, -1, 4000 + i)).isZero();
    }
    for (int i = 500; i < 1000; i++) {
      assertThat(of(i, -1, 9000 + i / 10)).isZero();
    }
  }

  @Test
  void aDatagramThatWasOvertakenIsNoSecondSource() {
    for (int i = 0; i < 500; i += 2) {
      assertThat(of(i, -1, 4000 + i)).isZero();
      assertThat(of(i + 1, -1, 4000 + i + 1)).isZero();
      assertThat(of(i, -1, 4000 + i)).as("twice").isZero();
    }
  }

  @Test
  void countsOrTimesThatDoNotGoOnAreAnotherSourceWhateverThePorts() {
    for (int i = 0; i < 200; i++) {
      assertThat(of(-1, 5000 + 100 * i, 4000 + 2 * i)).isZero();
      assertThat(of(-1, 900_000 + 100 * i, 4001 + 2 * i)).isEqualTo(1);
    }
  }

  @Test
  void twoPortsThatTakeTurnsAreTwoSourcesAfterFourLines() {
    for (int i = 0; i < 200; i++) {
      int a = of(-1, -1, 4000);
      int b = of(-1, -1, 4001);
      assertThat(i < 2 || a != b).isTrue();
    }
  }

  @Test
  void theSameCountWithOtherValuesIsAnotherSource() {
    assertThat(of(7, -1, 4000)).isZero();
    assertThat(of(7, -1, 4001)).isEqualTo(1);
    assertThat(of(8, -1, 4000)).isZero();
    assertThat(of(8, -1, 4001)).isEqualTo(1);
  }
}
