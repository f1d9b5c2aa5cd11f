package soakbench.ingest.identity;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import soakbench.lines.Reading;

/** Sequence numbers in, the order in which they go on out. */
class ReorderQueueTest implements ReorderQueue.Exit {
  private final List<Long> out = new ArrayList<>();
  private final List<Long> late = new ArrayList<>();
  private final ReorderQueue lane = new ReorderQueue(this);
  private long readUs = 1_000_000;

  @Override
  public void goOn(TimedReading line) {
    out.add(line.order());
  }

  @Override
  public void tooLate(TimedReading line) {
    late.add(line.order());
  }

  private void take(long seq, long tMs, String boot) {
    Reading reading =
        new Reading(
            "T-1",
            new Reading.Stamps(Reading.NO_TIME, Reading.NO_TIME, seq, tMs, boot),
            new Reading.Channels(24, 1, 1, 1, 0, 0, 1));
    lane.take(new TimedReading(reading, readUs++));
  }

  private void counted(long... seqs) {
    for (long seq : seqs) {
      take(seq, -1, null);
    }
  }

  /** The first of a power-up waits for those that it may have overtaken. */
  private void begun(long seq) {
    counted(seq);
    lane.releaseAll();
  }

  @Test
  void theFirstWaitsAndThoseWhoseTurnItIsGoOnAtOnce() {
    counted(5);
    assertThat(out).isEmpty();
    assertThat(lane.isIdle()).isFalse();
    lane.releaseAll();
    counted(6, 7);
    assertThat(out).containsExactly(5L, 6L, 7L);
    assertThat(lane.isIdle()).isTrue();
  }

  @Test
  void whatCameTooEarlyWaitsForThoseBeforeIt() {
    begun(0);
    counted(3, 2, 4);
    assertThat(out).containsExactly(0L);
    counted(1);
    assertThat(out).containsExactly(0L, 1L, 2L, 3L, 4L);
    assertThat(late).isEmpty();
  }

  @Test
  void aGapIsGivenUpOnceTheLineAfterItHasWaitedLongEnough() {
    begun(0);
    counted(2, 3, 5);
    long cameUs = readUs - 3;
    lane.release(cameUs - 1);
    assertThat(out).containsExactly(0L);
    lane.release(cameUs);
    assertThat(out).containsExactly(0L, 2L, 3L);
    counted(1);
    lane.releaseAll();
    assertThat(out).containsExactly(0L, 2L, 3L, 5L);
    assertThat(late).containsExactly(1L);
  }

  @Test
  void whatComesTwiceIsTooLateTheSecondTimeWhetherItWaitsOrWent() {
    begun(0);
    counted(2, 2, 0);
    lane.releaseAll();
    assertThat(out).containsExactly(0L, 2L);
    assertThat(late).containsExactlyInAnyOrder(2L, 0L);
  }

  @Test
  void noMoreThanFiveHundredAndTwelveWait() {
    begun(0);
    for (int i = 0; i < 512; i++) {
      counted(10 + 2 * i);
    }
    assertThat(out).containsExactly(0L);
    counted(10 + 2 * 512);
    assertThat(out).containsExactly(0L, 10L);
  }

  @Test
  void eightRisingLinesInARowThatLieBehindAreANewCount() {
    begun(100);
    counted(1, 2, 3, 4, 5, 6, 7);
    assertThat(out).containsExactly(100L);
    counted(8);
    lane.releaseAll();
    assertThat(out).containsExactly(100L, 1L, 2L, 3L, 4L, 5L, 6L, 7L, 8L);
    assertThat(late).isEmpty();
  }

  @Test
  void sevenThatLieBehindAreLate() {
    begun(100);
    counted(1, 2, 3, 4, 5, 6, 7, 101);
    assertThat(out).containsExactly(100L, 101L);
    assertThat(late).containsExactly(1L, 2L, 3L, 4L, 5L, 6L, 7L);
  }

  @Test
  void aCountThatFallsByMoreThanTwoHundredAndFiftySixHasBegunAnew() {
    begun(300);
    counted(44);
    lane.releaseAll();
    assertThat(late).containsExactly(44L);
    counted(43, 44);
    lane.releaseAll();
    assertThat(out).containsExactly(300L, 43L, 44L);
  }

  @Test
  void anotherBootIdBeginsAnewAtOnceAndWhatWaitedGoesOnBefore() {
    take(10, -1, "a");
    lane.releaseAll();
    take(12, -1, "a");
    take(1, -1, "b");
    take(0, -1, "b");
    lane.releaseAll();
    assertThat(out).containsExactly(10L, 12L, 0L, 1L);
    assertThat(late).isEmpty();
  }

  /** By time since boot a fall of more than 2 s is a boot, whatever the count does. */
  @Test
  void timeSinceBootDecidesWhereItIsTold() {
    take(10, 9_000, null);
    lane.releaseAll();
    take(9, 7_000, null);
    lane.releaseAll();
    assertThat(late).containsExactly(9L);
    take(9, 6_999, null);
    lane.releaseAll();
    assertThat(out).containsExactly(10L, 9L);
  }

  @Test
  void linesWithoutACountAreOrderedByTheirTimeAndAllWait() {
    take(-1, 500, null);
    take(-1, 300, null);
    take(-1, 400, null);
    assertThat(out).isEmpty();
    lane.release(readUs);
    assertThat(out).containsExactly(300L, 400L, 500L);
  }
}
