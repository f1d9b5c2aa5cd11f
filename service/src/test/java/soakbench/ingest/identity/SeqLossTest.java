package soakbench.ingest.identity;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import soakbench.Drawn;

class SeqLossTest {
  private static final long END_US = 1_000_000_000_000L;

  private final SeqLoss loss = new SeqLoss();
  private long nowUs;

  private void hear(long... seqs) {
    for (long seq : seqs) {
      loss.heard(seq, -1, null, nowUs);
      nowUs += 20_000;
    }
  }

  private void hearFromTo(long from, long to) {
    for (long seq = from; seq <= to; seq++) {
      hear(seq);
    }
  }

  private long lost() {
    return loss.lost(END_US);
  }

  @Test
  void aCounterWithoutGapsLosesNothing() {
    hearFromTo(500, 900);
    assertThat(lost()).isZero();
  }

  @Test
  void whatIsMissingIsCountedAfterTwoSeconds() {
    hear(1, 2, 5, 6);
    assertThat(loss.lost(nowUs)).isZero();
    assertThat(lost()).isEqualTo(2);
  }

  @Test
  void aLineThatComesLateIsNoLossButOneThatComesTooLateIs() {
    hear(1, 2, 4, 5, 3, 6);
    assertThat(lost()).isZero();
    SeqLoss other = new SeqLoss();
    other.heard(1, -1, null, 0);
    other.heard(3, -1, null, 0);
    other.heard(4, -1, null, 2_500_000);
    other.heard(2, -1, null, 2_500_000);
    assertThat(other.lost(END_US)).isEqualTo(1);
  }

  @Test
  void aLineSentTwiceIsNoLoss() {
    hear(1, 2, 2, 3, 3, 3, 1, 4);
    assertThat(lost()).isZero();
  }

  @Test
  void aRebootIsNoLossWhetherTheBootTheMillisecondsOrTheCounterAloneTellIt() {
    hearFromTo(1000, 1100);
    hearFromTo(0, 50);
    hear(53);
    assertThat(lost()).isEqualTo(2);
    SeqLoss byBoot = new SeqLoss();
    byBoot.heard(10, -1, "b1", 0);
    byBoot.heard(30, -1, "b2", 20_000);
    assertThat(byBoot.lost(END_US)).isZero();
    SeqLoss byMs = new SeqLoss();
    byMs.heard(10, 60_000, null, 0);
    byMs.heard(12, 500, null, 20_000);
    byMs.heard(13, 520, null, 40_000);
    assertThat(byMs.lost(END_US)).isZero();
  }

  @Test
  void aWrapIsNoLossAndALineLostAtItIs() {
    hearFromTo(65_500, 65_535);
    hearFromTo(0, 20);
    assertThat(lost()).isZero();
    SeqLoss wide = new SeqLoss();
    wide.heard((1L << 32) - 2, -1, null, 0);
    wide.heard(1, -1, null, 20_000);
    assertThat(wide.lost(END_US)).isEqualTo(2);
    SeqLoss narrow = new SeqLoss();
    for (int i = 0; i < 1000; i++) {
      narrow.heard(i % 256, -1, null, i * 20_000L);
    }
    assertThat(narrow.lost(END_US)).isZero();
  }

  @Test
  void theMillisecondsMayWrapTheirThirtyTwoBits() {
    loss.heard(10, (1L << 32) - 10, null, 0);
    loss.heard(12, 10, null, 20_000);
    loss.heard(13, 30, null, 40_000);
    assertThat(lost()).isEqualTo(1);
  }

  @Test
  void aGarbledNumberCountsForNothing() {
    hearFromTo(100, 200);
    hear(900_201);
    hearFromTo(202, 300);
    hear(3);
    hearFromTo(302, 400);
    // The garbled lines came, under numbers that are not theirs.
    assertThat(lost()).isEqualTo(2);
  }

  @Test
  void aLongAbsenceIsCountedWhole() {
    hearFromTo(0, 100);
    hearFromTo(60_101, 60_200);
    assertThat(lost()).isEqualTo(60_000);
  }

  @Test
  void linesWithoutACounterCountForNothing() {
    hear(-1, -1);
    assertThat(lost()).isZero();
  }

  @Test
  void withLossAndReorderingWithinASecondItCountsExactlyWhatIsMissing() {
    Drawn.cases(200, SeqLossTest::countsWhatIsMissing);
  }

  private static void countsWhatIsMissing(Drawn drawn) {
    double share = drawn.from(0, 0.3);
    int spreadUs = drawn.from(0, 1_000_000);
    Random random = drawn.random();
    record Heard(long seq, long atUs) {}
    List<Heard> heard = new ArrayList<>();
    int sent = 3000;
    for (int i = 0; i < sent; i++) {
      boolean edge = i < 60 || i >= sent - 1;
      if (edge || random.nextDouble() >= share) {
        long delayUs = edge || spreadUs == 0 ? 0 : random.nextInt(spreadUs);
        heard.add(new Heard(10_000 + i, i * 20_000L + delayUs));
      }
    }
    heard.sort(Comparator.comparingLong(Heard::atUs));
    SeqLoss counted = new SeqLoss();
    heard.forEach(h -> counted.heard(h.seq(), -1, null, h.atUs()));
    assertThat(counted.lost(END_US)).isEqualTo(sent - heard.size());
  }
}
