package soakbench.ingest.identity;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import java.util.concurrent.atomic.AtomicLong;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;
import soakbench.ingest.net.NetSender;
import soakbench.ingest.rackfile.LineSettings;
import soakbench.ingest.rackfile.StampTolerance;
import soakbench.ingest.source.SourceReader;
import soakbench.lines.LineCounters;
import soakbench.lines.LineCounts;
import soakbench.lines.Reading;
import soakbench.lines.Rejection.Kind;
import soakbench.live.arrival.Arrival;
import soakbench.model.Sample;

/** Times of samples whose own clock is wrong, or was set, from the bytes of lines. */
class LiveTimestampsTest {
  private static final long START_US = 1_770_000_000_000_000L;
  private static final long S = 1_000_000;
  private static final long EVERY_US = 100_000;

  /** How lines come in. */
  private enum Input {
    PORT,
    UDP,
    TCP
  }

  private final List<Sample> samples = new ArrayList<>();
  private final List<Arrival> heard = new ArrayList<>();
  private final AtomicLong correctionUs = new AtomicLong();
  private final LineCounters counters = new LineCounters();
  private long readUs = START_US;
  private int sent;
  private IdOwners owners = owners(false);
  private SourceReader port = port();
  private NetSender net;

  private IdOwners owners(boolean bounded) {
    return new IdOwners(
        tracker -> Reading.NO_TIME,
        samples::add,
        new IngestRules(StampTolerance.USUAL, correctionUs::get, bounded, heard::add, id -> true));
  }

  private SourceReader port() {
    return new SourceReader(LineSettings.NONE, owners, "slot A1", id -> {});
  }

  private void open(Input input) {
    net =
        input == Input.PORT
            ? null
            : new NetSender(
                "10.0.0.2", LineSettings.NONE, owners, counters, () -> {}, input == Input.UDP);
  }

  private void feed(String line) {
    byte[] bytes = (line + "\n").getBytes(UTF_8);
    if (net == null) {
      port.feed(bytes, bytes.length, readUs);
    } else {
      net.feed(4000 + sent % 7, bytes, bytes.length, readUs);
      net.release(readUs);
    }
    sent++;
  }

  private static String time(long us) {
    return Instant.EPOCH.plus(us, ChronoUnit.MICROS).toString();
  }

  private String line(String time, boolean counted) {
    String count = counted ? ",\"t_ms\":%d".formatted((readUs - START_US) / 1000 + 5000) : "";
    return String.format(
        Locale.ROOT,
        "{\"id\":\"T-9\",\"time\":\"%s\"%s,\"temp_c\":25.5,\"gyro_dps\":[%.1f,0,0]}",
        time,
        count,
        sent / 10.0);
  }

  /** So many lines whose clock is off by so much, a tenth of a second apart. */
  private void lines(int count, long offUs) {
    for (int i = 0; i < count; i++) {
      feed(line(time(readUs + correctionUs.get() + offUs), false));
      readUs += EVERY_US;
    }
  }

  private void assertTimesRiseEvenly(double most) {
    for (int i = 1; i < samples.size(); i++) {
      double stepUs = samples.get(i).timeUs() - samples.get(i - 1).timeUs();
      assertThat(stepUs).as("step to sample %s", i).isBetween(EVERY_US / most, EVERY_US * most);
    }
  }

  private long offUs() {
    long nowUs = readUs - EVERY_US + correctionUs.get();
    return samples.get(samples.size() - 1).timeUs() - nowUs;
  }

  private LineCounts counts() {
    return port.counts();
  }

  @ParameterizedTest
  @ValueSource(longs = {300, 1200, 10_800, 86_400, -10_800, -820_000_000})
  void aClockFarOffForTenSecondsCostsNoLineAndNoOrder(long offS) {
    lines(100, offS * S);
    assertThat(port.notice(readUs).orElseThrow())
        .startsWith("T-9's clock is ")
        .contains(offS > 0 ? " ahead: " : " behind: ")
        .endsWith("times are taken from arrival");
    lines(100, 0);
    assertThat(samples.size()).isEqualTo(200);
    assertThat(heard.size()).isEqualTo(200);
    assertTimesRiseEvenly(1.03);
    assertThat(offUs()).isZero();
    assertThat(counts().unbelievedTimes()).isBetween(100L, 102L);
  }

  @Test
  void theNoticeSaysByHowMuch() {
    lines(3, 10_800 * S);
    assertThat(port.notice(readUs))
        .hasValue("T-9's clock is 3 h 0 min ahead: times are taken from arrival");
  }

  @ParameterizedTest
  @ValueSource(longs = {50, 3, -3, -40, -300})
  void aClockThatIsSetWhileItRunsLosesNoLineAndTimesComeBackSlowly(long offS) {
    lines(300, offS * S);
    lines(300, 0);
    port.stop();
    assertThat(samples.size()).isEqualTo(600);
    assertThat(counts().rejectedTotal()).isZero();
    assertTimesRiseEvenly(1.03);
    assertThat(port.notice(readUs).orElseThrow())
        .matches("T-9's clock was set (forward|back) by .* at 2026-.*Z; times go on evenly")
        .contains("set " + (offS > 0 ? "back" : "forward"));
    double leftS = offUs() / 1e6;
    assertThat(Math.abs(leftS - offS)).as("back by 2 % of 30 s").isBetween(0.4, 0.7);
  }

  @Test
  void aSingleGarbledTimeCostsTheTimeNotTheReading() {
    lines(50, 0);
    lines(1, 30 * S);
    lines(50, 0);
    lines(1, -400 * S);
    lines(50, 0);
    lines(1, 86_400 * S);
    lines(50, 0);
    assertThat(samples.size()).isEqualTo(203);
    assertTimesRiseEvenly(1.03);
    assertThat(offUs()).isZero();
    assertThat(port.notice(readUs)).isEmpty();
  }

  @Test
  void aLineThatIsLateOrSentTwiceIsRefusedStill() {
    lines(50, 0);
    String late = line(time(readUs - 3 * EVERY_US - 10), false);
    feed(late);
    lines(50, 0);
    String twice = line(time(readUs), false);
    feed(twice);
    feed(twice);
    assertThat(samples.size()).isEqualTo(101);
    assertThat(counts().of(Kind.NOT_RISING)).isEqualTo(2);
    assertThat(heard.size()).as("but heard").isEqualTo(103);
  }

  @Test
  void aGapIsAGapAndNoClockThatWasSet() {
    lines(50, 0);
    readUs += 40 * S;
    lines(50, 0);
    assertThat(samples.get(50).timeUs() - samples.get(49).timeUs()).isEqualTo(40 * S + EVERY_US);
    assertThat(port.notice(readUs)).isEmpty();
  }

  @Test
  void whatWasBufferedWhileTheNetworkWasAwayKeepsItsOwnTimes() {
    lines(100, 0);
    long awayUs = readUs;
    readUs += 1200 * S;
    int count = 0;
    for (long at = awayUs; at < readUs; at += EVERY_US) {
      feed(line(time(at), false));
      readUs += EVERY_US / 25;
      count++;
    }
    lines(100, 0);
    assertThat(samples.size()).isEqualTo(200 + count);
    assertThat(counts().rejectedTotal()).isZero();
    assertTimesRiseEvenly(1.03);
    assertThat(offUs()).isZero();
  }

  @Test
  void aClockThatStoodStillFor20MinutesIsNoBufferAndIsLeftForArrival() {
    lines(100, 0);
    readUs += 1200 * S;
    lines(200, -1200 * S);
    assertThat(samples.size()).isEqualTo(300);
    assertThat(offUs()).isZero();
    for (int i = 1; i < samples.size(); i++) {
      assertThat(samples.get(i).timeUs()).isGreaterThan(samples.get(i - 1).timeUs());
    }
  }

  @Test
  void timesRiseAndStayEvenWhereTheComputersDateIsSet() {
    for (long stepS : new long[] {300, -300, -50, 500}) {
      for (boolean stamped : new boolean[] {false, true}) {
        samples.clear();
        correctionUs.set(0);
        owners = owners(false);
        port = port();
        // A tracker that has its time from elsewhere knows nothing of the computer's.
        for (int i = 0; i < 400; i++) {
          correctionUs.set(i < 200 ? 0 : stepS * S);
          String own = stamped ? ",\"time\":\"" + time(readUs) + "\"" : "";
          feed("{\"id\":\"T-9\"%s,\"gyro_dps\":[%d,0,0]}".formatted(own, i % 90));
          readUs += EVERY_US;
        }
        assertThat(samples.size()).as("%s s, stamped %s", stepS, stamped).isEqualTo(400);
        assertTimesRiseEvenly(1.03);
      }
    }
  }

  @Test
  void whereWhatLiesAheadIsRefusedTimesFollowADateThatIsSetBack() {
    owners = owners(true);
    port = port();
    lines(100, 0);
    correctionUs.set(-3600 * S);
    lines(100, 0);
    assertThat(samples.size()).isEqualTo(200);
    assertThat(offUs()).isZero();
  }

  /** What the clock of a fuzzed stream does. */
  private enum Fault {
    AHEAD_FOR_TEN_SECONDS,
    TWO_CLOCKS,
    BACKWARDS,
    EQUAL,
    JUMPING,
    ANY_YEAR
  }

  private static String stamp(Fault fault, Random random, int i, long nowUs) {
    long[] offsS = {300, 1200, 10_800};
    long offUs =
        switch (fault) {
          case AHEAD_FOR_TEN_SECONDS -> i % 500 < 100 ? offsS[i / 500 % 3] * S : 0;
          case TWO_CLOCKS -> i % 2 == 0 ? 0 : (i / 400 % 2 == 0 ? -240 : 7200) * S;
          case BACKWARDS -> -2L * i * EVERY_US;
          case EQUAL -> -(i % 300) * EVERY_US;
          case JUMPING -> (random.nextInt(1400) - 700) * S;
          case ANY_YEAR ->
              random.nextInt(3) == 0 ? (random.nextInt(300_000) - 2026) * 31_536_000L * S : 0;
        };
    return time(nowUs + offUs);
  }

  @ParameterizedTest
  @EnumSource
  void whateverTheClockSaysTimesRiseNearArrivalAndHardlyALineIsLost(Fault fault) {
    long seed = Long.getLong("soakbench.test.seed", System.nanoTime());
    System.out.println("LiveTimesTest: -Dsoakbench.test.seed=" + seed);
    for (Input input : Input.values()) {
      for (boolean counted : new boolean[] {true, false}) {
        fuzz(fault, input, counted, new Random(seed));
      }
    }
  }

  private void fuzz(Fault fault, Input input, boolean counted, Random random) {
    samples.clear();
    heard.clear();
    owners = owners(false);
    port = port();
    open(input);
    int count = 3000;
    List<Long> reads = new ArrayList<>();
    sent = 0;
    for (int i = 0; i < count; i++) {
      long late = random.nextInt(20_000);
      readUs += late;
      reads.add(readUs);
      feed(line(stamp(fault, random, i, readUs), counted));
      readUs += EVERY_US - late;
    }
    port.stop();
    if (net != null) {
      net.stop();
    }
    String what = fault + " by " + input + (counted ? " with t_ms" : "");
    assertThat(heard.size()).as(what).isEqualTo(count);
    assertThat(samples.size()).as(what).isGreaterThanOrEqualTo(count * 99 / 100);
    long before = Long.MIN_VALUE;
    for (Sample sample : samples) {
      assertThat(sample.timeUs()).as(what).isGreaterThan(before);
      before = sample.timeUs();
      long readAtUs = reads.get(Math.round(sample.gxDps() * 10));
      assertThat(sample.timeUs() - readAtUs).as(what).isBetween(-601 * S, 61 * S);
    }
  }

  @Test
  void aYearThatCantBeCostsTheTimeNotTheReading() {
    lines(5, 0);
    for (String year : List.of("+300000", "0001", "1999", "2101", "nonsense")) {
      feed(line(year + "-01-01T00:00:00Z", false));
      readUs += EVERY_US;
    }
    lines(5, 0);
    assertThat(samples.size()).isEqualTo(15);
    assertThat(heard.size()).isEqualTo(15);
    assertThat(heard.get(7).stampUs()).isEqualTo(Reading.NO_TIME);
    assertTimesRiseEvenly(1.03);
    assertThat(counts().unbelievedTimes()).isBetween(5L, 7L);
  }
}
