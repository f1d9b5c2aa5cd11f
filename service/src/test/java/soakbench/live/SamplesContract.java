package soakbench.live;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatList;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.OptionalLong;
import java.util.Random;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import soakbench.live.SoakStore.Written;
import soakbench.model.Sample;

/** What every store must do with samples. */
interface SamplesContract extends StoreInTest {
  @Test
  default void samplesComeBackByTimeAndEqual() {
    List<Sample> written = IntStream.range(0, 50).mapToObj(i -> sample(i * 20_000L)).toList();
    List<Sample> shuffled = new ArrayList<>(written);
    Collections.shuffle(shuffled, new Random(4));
    assertThat(write(shuffled)).isEqualTo(new Written(shuffled, 0, 0));
    assertThat(stored()).isEqualTo(written);
  }

  @Test
  default void everyMicrosecondIsKept() {
    List<Sample> written = IntStream.range(0, 1_000).mapToObj(this::sample).toList();
    write(written);
    assertThat(stored()).isEqualTo(written);
  }

  @Test
  default void timesBefore1970AndFarAheadAreKept() {
    List<Sample> written = List.of(at(-1), at(0), at(253_402_300_799_999_999L));
    write(written);
    assertThatList(read(u -> u.samples(tracker(), Long.MIN_VALUE, Long.MAX_VALUE)))
        .isEqualTo(written);
  }

  @Test
  default void absentAndExtremeChannelValuesComeBackAsTheyWere() {
    float nan = Float.NaN;
    List<Sample> written =
        List.of(
            new Sample(tracker(), START_US, nan, false, nan, nan, nan, nan, nan, nan, -1, -1),
            new Sample(tracker(), START_US + 1, 21.5f, true, nan, nan, nan, nan, nan, nan, 0, 0),
            new Sample(
                tracker(),
                START_US + 2,
                -0.0f,
                false,
                Float.MIN_VALUE,
                -Float.MAX_VALUE,
                0.1f,
                Float.POSITIVE_INFINITY,
                1f / 3,
                nan,
                Long.MAX_VALUE,
                4_294_967_295L));
    write(written);
    assertThat(stored()).isEqualTo(written);
  }

  @Test
  default void readingTakesTheStartAndLeavesTheEnd() {
    write(List.of(sample(0), sample(10), sample(20)));
    assertThatList(read(u -> u.samples(tracker(), START_US, START_US + 20)))
        .isEqualTo(List.of(sample(0), sample(10)));
    assertThatList(read(u -> u.samples(tracker(), START_US + 20, START_US))).isEmpty();
    assertThatList(read(u -> u.samples("nobody", 0, Long.MAX_VALUE))).isEmpty();
  }

  @Test
  default void sendingAgainIsHarmlessAndCounted() {
    List<Sample> samples = List.of(sample(0), sample(1), sample(2));
    write(samples);
    assertThat(write(samples)).isEqualTo(new Written(List.of(), 3, 0));
    assertThat(stored()).isEqualTo(samples);
  }

  @Test
  default void sendingAgainWithoutKnownValuesIsADuplicateToo() {
    float nan = Float.NaN;
    Sample bare = new Sample(tracker(), START_US, nan, false, 1, 2, 3, nan, nan, nan, -1, -1);
    write(List.of(bare));
    assertThat(write(List.of(bare))).isEqualTo(new Written(List.of(), 1, 0));
  }

  @Test
  default void newSamplesAmongOldOnesAreWrittenInTheGivenOrder() {
    write(List.of(sample(10), sample(20)));
    Written written = write(List.of(sample(30), sample(20), sample(0), sample(10)));
    assertThat(written).isEqualTo(new Written(List.of(sample(30), sample(0)), 2, 0));
    assertThat(stored()).isEqualTo(List.of(sample(0), sample(10), sample(20), sample(30)));
  }

  @Test
  default void otherValuesForTheSameKeyAreCountedAndTheFirstKept() {
    write(List.of(sample(0)));
    List<Sample> others =
        List.of(
            warmer(sample(0)),
            held(sample(0)),
            numbered(sample(0), 77, 5),
            numbered(sample(0), 9, 77));
    assertThat(write(others)).isEqualTo(new Written(List.of(), 0, 4));
    assertThat(stored()).isEqualTo(List.of(sample(0)));
  }

  @Test
  default void repeatsWithinOneListAreToldApartAsWell() {
    Written written =
        write(List.of(sample(0), sample(0), warmer(sample(0)), sample(1), warmer(sample(1))));
    assertThat(written).isEqualTo(new Written(List.of(sample(0), sample(1)), 1, 2));
    assertThat(stored()).isEqualTo(List.of(sample(0), sample(1)));
  }

  @Test
  default void twoTrackersMayShareATime() {
    Sample other = copy(sample(0), tracker() + "-b", 1f, false, 9, 5);
    assertThat(write(List.of(sample(0), other)).fresh()).hasSize(2);
    assertThat(stored()).isEqualTo(List.of(sample(0)));
  }

  private static Sample warmer(Sample s) {
    return copy(s, s.tracker(), s.temperatureC() + 1, s.temperatureHeld(), s.seq(), s.tMs());
  }

  private static Sample held(Sample s) {
    return copy(s, s.tracker(), s.temperatureC(), true, s.seq(), s.tMs());
  }

  private static Sample numbered(Sample s, long seq, long tMs) {
    return copy(s, s.tracker(), s.temperatureC(), s.temperatureHeld(), seq, tMs);
  }

  private static Sample copy(
      Sample s, String tracker, float temperatureC, boolean held, long seq, long tMs) {
    return new Sample(
        tracker,
        s.timeUs(),
        temperatureC,
        held,
        s.gxDps(),
        s.gyDps(),
        s.gzDps(),
        s.axG(),
        s.ayG(),
        s.azG(),
        seq,
        tMs);
  }

  @Test
  default void theNextSampleIsFoundAcrossAnyGap() {
    long yearsUs = 26L * 365 * 86_400 * 1_000_000;
    write(List.of(sample(0), sample(5), sample(yearsUs)));
    assertThat(nextUs(Long.MIN_VALUE)).hasValue(START_US);
    assertThat(nextUs(START_US + 5)).hasValue(START_US + 5);
    assertThat(nextUs(START_US + 6)).hasValue(START_US + yearsUs);
    assertThat(nextUs(START_US + yearsUs + 1)).isEmpty();
  }

  private OptionalLong nextUs(long fromUs) {
    return read(u -> u.nextSampleUs(tracker(), fromUs));
  }

  @Test
  default void samplesAreCountedWithTheFirstAndWithoutTheEnd() {
    write(List.of(sample(0), sample(5), sample(10)));
    assertThat(count(START_US, START_US + 10)).isEqualTo(2);
    assertThat(count(START_US + 1, Long.MAX_VALUE)).isEqualTo(2);
    assertThat(count(0, START_US)).isZero();
  }

  private long count(long fromUs, long toUs) {
    return read(u -> u.countSamples(tracker(), fromUs, toUs));
  }
}
