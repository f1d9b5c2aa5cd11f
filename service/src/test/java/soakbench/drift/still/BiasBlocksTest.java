package soakbench.drift.still;

import static org.assertj.core.api.Assertions.assertThat;

import org.assertj.core.data.Offset;
import org.junit.jupiter.api.Test;
import soakbench.drift.Bins;
import soakbench.drift.still.Stillness.Answer;

class BiasBlocksTest {
  private final BiasBlocks blocks = new BiasBlocks();
  private final Bins bins = new Bins(1).noise(0.0);

  private void feed(int from, int to, Answer answer) {
    for (int s = from; s < to; s++) {
      blocks.accept(bins.second(s, 10, 0), s + 0.5, answer);
    }
  }

  @Test
  void halfMinutesOfStillnessBecomeBlocks() {
    feed(0, 92, Answer.STILL);
    assertThat(blocks.blocks()).hasSize(3);
    BiasBlock second = blocks.blocks().get(1);
    assertThat(second.midS()).isEqualTo(45, Offset.offset(1e-9));
    assertThat(second.widthS()).isEqualTo(30);
    assertThat(second.biasDps())
        .containsExactly(new double[] {0.31, -0.12, 0.05}, Offset.offset(1e-9));
    assertThat(second.temperatureC()).isEqualTo(25);
  }

  @Test
  void oneSecondBeforeAndTwoAfterMotionAreLeftOut() {
    bins.bias(0, 0, 0);
    feed(0, 24, Answer.STILL);
    bins.bias(99, 99, 99);
    feed(24, 25, Answer.STILL);
    feed(25, 28, Answer.MOVED);
    feed(28, 30, Answer.STILL);
    bins.bias(0, 0, 0);
    feed(30, 62, Answer.STILL);
    assertThat(blocks.blocks()).hasSize(2);
    assertThat(blocks.blocks()).allMatch(b -> b.biasDps()[0] == 0);
    assertThat(blocks.blocks().get(0).widthS()).isEqualTo(24);
  }

  @Test
  void motionABootAndANewLevelEachBeginASegment() {
    feed(0, 31, Answer.STILL);
    feed(31, 33, Answer.MOVED);
    feed(33, 65, Answer.STILL);
    bins.booted(1);
    feed(65, 95, Answer.STILL);
    feed(95, 96, Answer.NEW_LEVEL);
    feed(96, 123, Answer.STILL);
    assertThat(blocks.segment()).isEqualTo(3);
    assertThat(blocks.blocks()).extracting(BiasBlock::segment).doesNotHaveDuplicates();
  }

  @Test
  void whiteNoiseIsReadFromNeighbouringSeconds() {
    Bins noisy = new Bins(12).noise(0.02);
    assertThat(blocks.whiteNoiseDps()[0]).isNaN();
    for (int s = 0; s < 4000; s++) {
      blocks.accept(noisy.second(s, 10, 0), s + 0.5, Answer.STILL);
    }
    assertThat(blocks.whiteNoiseDps()[1]).isEqualTo(0.02 / Math.sqrt(10), Offset.offset(2e-4));
  }

  /** They stand for two seconds each: fifteen make a block, with the noise that one second has. */
  @Test
  void readingsTwoSecondsApartMakeBlocksToo() {
    Bins slow = new Bins(13).noise(0.02);
    for (int s = 0; s < 8000; s += 2) {
      blocks.accept(slow.second(s, 1, 0), s + 0.5, Answer.STILL);
    }
    assertThat(blocks.blocks()).hasSizeGreaterThan(260);
    assertThat(blocks.blocks().get(3).widthS()).isEqualTo(30);
    assertThat(blocks.whiteNoiseDps()[1]).isEqualTo(0.02 * Math.sqrt(2), Offset.offset(1e-3));
  }

  @Test
  void secondsThatAreMissingAreNotStoodFor() {
    for (int s = 0; s < 60; s += 2) {
      blocks.accept(bins.second(s, 10, 0), s + 0.5, Answer.STILL);
    }
    assertThat(blocks.blocks()).isEmpty();
    assertThat(blocks.whiteNoiseDps()[0]).isNaN();
  }
}
