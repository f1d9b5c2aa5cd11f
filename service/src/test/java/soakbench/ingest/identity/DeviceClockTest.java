package soakbench.ingest.identity;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class DeviceClockTest {
  private static final long START_US = 1_770_000_000_000_000L;
  private static final long WRAP_MS = 1L << 32;

  private final DeviceClock clock = new DeviceClock();

  /** A tracker whose clock is wrong and whose lines arrive late. */
  private final class Simulated {
    final Random random;
    final double skewPpm;
    final double rateHz;
    final double jitterUs;
    double trueS;
    double bootS;
    long bootMs;
    long seq;
    double delayUs;
    long mappedUs;
    double worstErrorMs;
    double errorMs;
    boolean fell;
    int mayRefuse;
    int refused;

    Simulated(long seed, double skewPpm, double rateHz, double jitterMs) {
      this.random = new Random(seed);
      this.skewPpm = skewPpm;
      this.rateHz = rateHz;
      this.jitterUs = jitterMs * 1000;
      this.bootMs = 3000;
    }

    void run(double seconds) {
      worstErrorMs = 0;
      for (double end = trueS + seconds; trueS < end; trueS += 1 / rateHz) {
        line(random.nextDouble() * jitterUs + delayUs);
      }
    }

    void line(double delay) {
      double deviceMs = bootMs + (trueS - bootS) * 1000 * (1 - skewPpm * 1e-6);
      long tMs = Math.floorMod((long) Math.floor(deviceMs), WRAP_MS);
      // The counter's own millisecond is no error of the mapping.
      double takenUs = trueS * 1e6 - (deviceMs - Math.floor(deviceMs)) * 1000;
      long answer = clock.map(tMs, seq++, null, START_US + Math.round(trueS * 1e6 + delay));
      if (answer == DeviceClock.OUT_OF_ORDER) {
        refused++;
        assertThat(refused).isLessThanOrEqualTo(mayRefuse);
        return;
      }
      fell |= answer < mappedUs;
      mappedUs = answer;
      errorMs = (answer - START_US - takenUs) / 1000;
      worstErrorMs = Math.max(worstErrorMs, Math.abs(errorMs));
    }

    void reboot(double pauseS) {
      trueS += pauseS;
      bootS = trueS;
      bootMs = 300;
      seq = 0;
    }
  }

  @ParameterizedTest
  @CsvSource({
    "500, 50, 60",
    "-500, 50, 60",
    "120, 50, 60",
    "0, 5, 60",
    "500, 5, 60",
    "-500, 5, 60",
    "300, 250, 60",
    "500, 1.5, 120",
    "-500, 1.5, 120"
  })
  void afterAMinuteItIsRightToFiveMilliseconds(double skewPpm, double rateHz, double settlingS) {
    List<Double> worst = new ArrayList<>();
    for (int seed = 0; seed < 20; seed++) {
      DeviceClockTest fresh = new DeviceClockTest();
      Simulated tracker = fresh.new Simulated(seed, skewPpm, rateHz, 50);
      tracker.run(settlingS);
      tracker.run(1800);
      worst.add(tracker.worstErrorMs);
      assertThat(tracker.fell).isFalse();
    }
    assertThat(worst.stream().filter(ms -> ms > 5).toList()).as(worst.toString()).isEmpty();
  }

  @Test
  void theSkewIsFound() {
    Simulated tracker = new Simulated(1, 350, 50, 50);
    tracker.run(600);
    assertThat(clock.skewPpm()).isBetween(345.0, 355.0);
  }

  @Test
  void inTheFirstMinuteItIsNeverWorseThanTheDelays() {
    Simulated tracker = new Simulated(2, 500, 50, 50);
    tracker.run(60);
    assertThat(tracker.worstErrorMs).isLessThan(60);
  }

  @Test
  void intervalsStayTrueWhileItSettles() {
    Simulated tracker = new Simulated(3, -400, 50, 50);
    long before = 0;
    for (int i = 0; i < 3000; i++) {
      tracker.run(1 / tracker.rateHz);
      if (before != 0) {
        assertThat(tracker.mappedUs - before).isBetween(18_000L, 22_500L);
      }
      before = tracker.mappedUs;
    }
  }

  @Test
  void aWrapOfTheCounterIsNoReboot() {
    Simulated tracker = new Simulated(4, 200, 20, 50);
    tracker.bootMs = WRAP_MS - 120_000;
    tracker.run(119);
    tracker.run(120);
    assertThat(tracker.worstErrorMs).isLessThan(5);
    assertThat(clock.skewPpm()).isBetween(150.0, 250.0);
  }

  @Test
  void aWrapInASilenceIsNoReboot() {
    Simulated tracker = new Simulated(5, 0, 20, 20);
    tracker.bootMs = WRAP_MS - 100_000;
    tracker.run(90);
    tracker.trueS += 25;
    tracker.run(20);
    assertThat(tracker.worstErrorMs).isLessThan(5);
  }

  @Test
  void aRebootBeginsANewMappingAtOnce() {
    Simulated tracker = new Simulated(6, 300, 50, 50);
    tracker.run(300);
    for (double pauseS : new double[] {0.4, 3, 30, 600}) {
      tracker.reboot(pauseS);
      tracker.run(0.2);
      assertThat(tracker.worstErrorMs).as("reboot after %s s", pauseS).isLessThan(60);
      tracker.run(60);
      tracker.run(60);
      assertThat(tracker.worstErrorMs).isLessThan(5);
    }
    assertThat(tracker.fell).isFalse();
  }

  @Test
  void aRebootIsSeenByTheLineCounterWhereTheClockHasPassedItsOldValue() {
    Simulated tracker = new Simulated(7, 0, 50, 50);
    tracker.run(10);
    tracker.trueS += 5;
    tracker.bootS = tracker.trueS;
    tracker.bootMs = 14_000;
    tracker.seq = 40;
    tracker.run(0.2);
    assertThat(tracker.worstErrorMs).isLessThan(60);
  }

  @Test
  void aLineCounterThatWrapsWhileTheClockGoesOnIsNoReboot() {
    Simulated tracker = new Simulated(8, 500, 50, 50);
    for (int i = 0; i < 200; i++) {
      tracker.seq = 0;
      tracker.run(1);
    }
    assertThat(tracker.worstErrorMs).isLessThan(5);
  }

  @Test
  void aStallOfTheReaderMakesNothingLate() {
    Simulated tracker = new Simulated(9, 100, 50, 20);
    tracker.run(120);
    double stallEndS = tracker.trueS + 3;
    while (tracker.trueS < stallEndS) {
      tracker.line((stallEndS - tracker.trueS) * 1e6);
      assertThat(tracker.errorMs).isBetween(-5.0, 5.0);
      tracker.trueS += 1 / tracker.rateHz;
    }
    tracker.run(60);
    assertThat(tracker.worstErrorMs).isLessThan(5);
  }

  @Test
  void aCounterThatStoodStillForMinutesIsMappedAnew() {
    Simulated tracker = new Simulated(10, 0, 50, 50);
    tracker.run(60);
    tracker.trueS += 120;
    tracker.bootS += 120;
    tracker.run(0.2);
    assertThat(tracker.worstErrorMs).isLessThan(60);
  }

  @Test
  void aCounterThatStoodStillForSecondsIsMappedAnewSoon() {
    Simulated tracker = new Simulated(11, 0, 50, 50);
    tracker.run(60);
    tracker.trueS += 4;
    tracker.bootS += 4;
    tracker.run(60);
    tracker.run(10);
    assertThat(tracker.worstErrorMs).isLessThan(5);
  }

  @Test
  void oneGarbledCounterDisturbsNothing() {
    Simulated tracker = new Simulated(12, 200, 50, 50);
    tracker.run(120);
    long arrivalUs = START_US + Math.round(tracker.trueS * 1e6);
    for (long garbledMs : new long[] {3_120_000_000L, 77_777}) {
      assertThat(clock.map(garbledMs, tracker.seq, null, arrivalUs))
          .isEqualTo(DeviceClock.OUT_OF_ORDER);
    }
    tracker.run(10);
    assertThat(tracker.worstErrorMs).isLessThan(5);
  }

  @Test
  void aCounterSetBackForGoodIsBelievedSoon() {
    Simulated tracker = new Simulated(13, 0, 50, 50);
    tracker.run(120);
    long refused = 0;
    for (int i = 0; i < 500; i++) {
      long arrivalUs = START_US + Math.round(tracker.trueS * 1e6) + i * 20_000;
      refused +=
          clock.map(60_000 + i * 20, -1, null, arrivalUs) == DeviceClock.OUT_OF_ORDER ? 1 : 0;
    }
    assertThat(refused).isBetween(5L, 60L);
  }

  @Test
  void arrivalsThatGoBackNeverTakeTimeBack() {
    Simulated tracker = new Simulated(14, 0, 50, 50);
    tracker.run(60);
    tracker.delayUs = -7_200e6;
    tracker.mayRefuse = 60;
    tracker.run(120);
    assertThat(tracker.fell).isFalse();
  }

  @Test
  void anotherIdOfThePowerUpIsAReboot() {
    clock.map(5000, -1, "a", START_US);
    assertThat(clock.map(5020, -1, "b", START_US + 1_000_000)).isEqualTo(START_US + 1_000_000);
  }

  @Test
  void noSequenceOfNumbersMakesItFailOrFall() {
    long seed = System.nanoTime();
    System.out.println("device clock, seed " + seed);
    Random random = new Random(seed);
    long before = Long.MIN_VALUE;
    long arrivalUs = START_US;
    long tMs = 0;
    for (int i = 0; i < 200_000; i++) {
      arrivalUs += random.nextInt(20) == 0 ? random.nextLong(-100_000_000, 100_000_000) : 20_000;
      tMs = random.nextInt(20) == 0 ? random.nextLong(WRAP_MS) : (tMs + 20) % WRAP_MS;
      long answer = clock.map(tMs, random.nextInt(3) - 1, null, arrivalUs);
      if (answer != DeviceClock.OUT_OF_ORDER) {
        assertThat(answer).isGreaterThanOrEqualTo(before);
        before = answer;
      }
    }
  }
}
