package soakbench.ingest.identity;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.concurrent.atomic.AtomicLong;
import org.junit.jupiter.api.Test;
import soakbench.LogLines;
import soakbench.ingest.ports.PortReport;
import soakbench.ingest.ports.PortSurvey;
import soakbench.ingest.source.RateMeter;
import soakbench.serial.PortInfo;

class ClocksAndRatesTest {
  private static final long SECOND_US = 1_000_000;
  private static final long SECOND_NS = 1_000_000_000;

  private final AtomicLong date = new AtomicLong(1_770_000_000 * SECOND_US);
  private final AtomicLong running = new AtomicLong(5 * SECOND_US);
  private final ArrivalClock clock = new ArrivalClock(date::get, running::get);

  private void pass(long us) {
    date.addAndGet(us);
    running.addAndGet(us);
  }

  @Test
  void arrivalFollowsTheComputersTime() {
    long begin = clock.nowUs();
    pass(SECOND_US);
    assertThat(clock.nowUs() - begin).isEqualTo(SECOND_US);
    assertThat(clock.nowUs()).isEqualTo(date.get());
  }

  @Test
  void aDateThatIsSetIsFollowedBothWaysAndSaidByHowMuch() {
    try (LogLines log = new LogLines("soakbench.ingest.identity.ArrivalClock")) {
      long begin = clock.nowUs();
      date.addAndGet(-3600 * SECOND_US);
      pass(SECOND_US);
      assertThat(clock.nowUs()).isEqualTo(date.get());
      assertThat(clock.runningUs() - begin).isEqualTo(SECOND_US);
      date.addAndGet(7200 * SECOND_US);
      pass(SECOND_US);
      assertThat(clock.nowUs()).isEqualTo(date.get());
      assertThat(clock.nowUs()).isEqualTo(date.get());
      assertThat(clock.correctionUs()).isEqualTo(3600 * SECOND_US);
      assertThat(clock.runningUs() - begin).as("it never steps").isEqualTo(2 * SECOND_US);
      assertThat(log.lines()).hasSize(2);
      assertThat(log.lines().get(0)).contains("set back by 1 h 0 min");
      assertThat(log.lines().get(1)).contains("set forward by 2 h 0 min");
    }
  }

  @Test
  void aSmallCorrectionOfTheDateIsLeftUntilItGrows() {
    long begin = clock.nowUs();
    date.addAndGet(SECOND_US / 2);
    assertThat(clock.nowUs()).isEqualTo(begin);
    date.addAndGet(-SECOND_US);
    assertThat(clock.nowUs()).isEqualTo(begin);
    date.addAndGet(-SECOND_US);
    assertThat(clock.nowUs()).isEqualTo(date.get());
  }

  @Test
  void aLaptopThatSleptIsBackAtTheDateWhetherItsMonotonicClockRanOnOrNot() {
    clock.nowUs();
    date.addAndGet(7200 * SECOND_US);
    assertThat(clock.nowUs()).isEqualTo(date.get());
    pass(7200 * SECOND_US);
    assertThat(clock.nowUs()).isEqualTo(date.get());
  }

  @Test
  void theRateIsThatOfTheLastFiveSeconds() {
    RateMeter meter = new RateMeter(100 * SECOND_NS);
    assertThat(meter.perSecond(100 * SECOND_NS)).isZero();
    for (int i = 0; i <= 1000; i++) {
      meter.total(i, 100 * SECOND_NS + i * SECOND_NS / 50);
    }
    assertThat(meter.perSecond(120 * SECOND_NS)).isCloseTo(50, within(0.5));
    assertThat(meter.perSecond(122 * SECOND_NS + 1)).isCloseTo(30, within(0.5));
    assertThat(meter.perSecond(126 * SECOND_NS + 1)).isZero();
    assertThat(meter.perSecond(500 * SECOND_NS)).isZero();
  }

  @Test
  void theRateIsRightFromTheSecondSecondOn() {
    RateMeter meter = new RateMeter(100 * SECOND_NS);
    for (int i = 0; i < 100; i++) {
      meter.total(i + 1, 100 * SECOND_NS + i * SECOND_NS / 50);
    }
    assertThat(meter.perSecond(102 * SECOND_NS)).isEqualTo(50);
  }

  @Test
  void aSurveyedPortSaysWhatItIsAndWhatToDo() {
    PortInfo none = new PortInfo("/dev/none-such", "adapter", "1-2", "A7", 0x1234, 0xabcd);
    PortReport port = new PortSurvey(() -> List.of(none)).look(List.of()).get(0);
    assertThat(port.device().what()).isEqualTo("adapter 1234:abcd");
    assertThat(port.canBeRead()).isFalse();
    assertThat(port.reason()).contains("/dev/none-such does not exist");
  }
}
