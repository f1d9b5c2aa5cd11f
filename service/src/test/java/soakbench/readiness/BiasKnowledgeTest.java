package soakbench.readiness;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import soakbench.drift.still.BiasBlocks;
import soakbench.drift.still.Stillness;
import soakbench.model.Bin;

class BiasKnowledgeTest {
  private final BiasKnowledge knowledge = new BiasKnowledge();
  private final BiasBlocks blocks = new BiasBlocks();
  private final JudgedSeconds seconds = new JudgedSeconds(t -> 31 - 9 * Math.exp(-t / 700), 0.02);

  private void lie(int fromS, int toS) {
    for (int s = fromS; s < toS; s++) {
      Bin bin = seconds.at(s);
      blocks.accept(bin, s + 0.5, Stillness.Answer.STILL);
      knowledge.update(blocks, bin.temperatureC().mean());
    }
  }

  @Test
  void itIsKnownFromFourBlocksOn() {
    lie(0, 110);
    assertThat(knowledge.known()).isFalse();
    lie(110, 152);
    assertThat(knowledge.known()).isTrue();
  }

  @Test
  void aUnitsOwnCoefficientOutweighsTheBelief() {
    lie(0, 1800);
    assertThat(knowledge.axis(0).slopeAt(30).value()).isCloseTo(0.02, within(0.002));
    assertThat(knowledge.axis(1).slopeAt(30).value()).isCloseTo(-0.02, within(0.002));
    assertThat(knowledge.axis(2).slopeAt(30).value()).isCloseTo(0, within(0.002));
    assertThat(knowledge.axis(0).slopeAt(30).se()).isLessThan(BiasKnowledge.PRIOR.slopeSd() / 10);
    // Ten readings of 0.02 deg/s a second.
    assertThat(knowledge.axis(0).whiteDps()).isCloseTo(0.02 / Math.sqrt(10), within(0.001));
  }

  @Test
  void withoutANewBlockNothingIsFittedAnew() {
    lie(0, 300);
    var before = knowledge.axis(0);
    lie(300, 301);
    assertThat(knowledge.axis(0)).isSameAs(before);
    lie(301, 340);
    assertThat(knowledge.axis(0)).isNotSameAs(before);
  }
}
