package soakbench.readiness.estimator;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import soakbench.model.Bin;
import soakbench.model.Bin.Channel;

/** Seconds put together to blocks. */
class BlocksTest {
  private final List<Block> out = new ArrayList<>();
  private final Blocks blocks = new Blocks();

  private void second(int s, int boot, double biasDps, double celsius) {
    Channel rate = new Channel(10, biasDps, 0.01);
    Channel[] rates = {rate, rate, rate};
    Channel[] none = {Channel.EMPTY, Channel.EMPTY, Channel.EMPTY};
    Channel temperature = new Channel(10, celsius, 0.02);
    long us = s * 1_000_000L;
    Bin bin = new Bin("T", s, us, us + 900_000, boot, temperature, rates, none, 0.004, 0.001);
    blocks.accept(bin, s + 0.5, false, true, out::add);
  }

  /** Else its block tells that the offset, and what settles, are what they were. */
  @Test
  void whatWasReadBeforeAPowerCutIsNoPartOfTheBlockThatTellsOfIt() {
    for (int s = 0; s < 15; s++) {
      second(s, 0, 0.2, 30);
    }
    for (int s = 15; s < 31; s++) {
      second(s, 1, 0.3, 29);
    }
    assertThat(out).hasSize(3);
    assertThat(out.stream().map(Block::booted)).containsExactly(false, true, false);
    Block cut = out.get(1);
    assertThat(cut.counts()).isTrue();
    assertThat(cut.biasDps()).containsExactly(new double[] {0.3, 0.3, 0.3}, within(1e-9));
    assertThat(cut.reading().middleC()).isCloseTo(29, within(1e-9));
  }
}
