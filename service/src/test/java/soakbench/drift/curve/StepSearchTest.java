package soakbench.drift.curve;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import java.util.function.IntToDoubleFunction;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

/** An hour of blocks that warm from 24 to 31 degC, 0.02 deg/s for each degC, and what is added. */
class StepSearchTest {
  private static final double WHITE_DPS = 0.01;
  private static final double[] WHITE = {WHITE_DPS, WHITE_DPS, WHITE_DPS};

  private static List<StepBlock> blocks(int count, long seed, IntToDoubleFunction added) {
    SplittableRandom random = new SplittableRandom(seed);
    List<StepBlock> out = new ArrayList<>();
    for (CurveBlock b :
        CurveBlocks.of(count, t -> 31 - 7 * Math.exp(-t / 700), c -> 0.02 * (c - 31))) {
      double[] dps = b.biasDps();
      for (int axis = 0; axis < 3; axis++) {
        dps[axis] += WHITE_DPS / Math.sqrt(30) * random.nextGaussian();
      }
      dps[1] += added.applyAsDouble(out.size());
      out.add(
          new StepBlock(
              b.midS(), b.widthS(), b.temperatureC(), b.rateCPerS(), b.sinceBootS(), dps, 0));
    }
    return out;
  }

  private static List<Integer> found(List<StepBlock> blocks, double leastDps) {
    boolean[] steps = StepSearch.steps(blocks, WHITE, new double[] {leastDps, leastDps, leastDps});
    return IntStream.range(0, steps.length).filter(k -> steps[k]).boxed().toList();
  }

  @Test
  void eachStepIsFoundInTheBlockIntoWhichItFalls() {
    IntToDoubleFunction twice = k -> (k < 40 ? 0 : k == 40 ? 0.008 : 0.02) - (k > 80 ? 0.03 : 0);
    for (long seed = 0; seed < 5; seed++) {
      List<Integer> found = found(blocks(120, seed, twice), 0);
      assertThat(found).as("seed %s", seed).hasSize(2);
      assertThat(found.get(0)).isEqualTo(40);
      assertThat(found.get(1)).isBetween(80, 81);
    }
  }

  @Test
  void aTouchOfAMinuteOrTwoIsNoStep() {
    for (int blocks = 1; blocks <= 3; blocks++) {
      int last = 50 + blocks;
      assertThat(found(blocks(120, 3, k -> k >= 50 && k < last ? 0.03 : 0), 0)).isEmpty();
    }
  }

  @Test
  void besideAnEndOrInTooFewBlocksNothingIsSaid() {
    assertThat(found(blocks(120, 4, k -> k > 116 ? 0.05 : 0), 0)).isEmpty();
    assertThat(found(blocks(120, 4, k -> k < 4 ? 0.05 : 0), 0)).isEmpty();
    assertThat(found(blocks(19, 4, k -> k > 9 ? 0.05 : 0), 0)).isEmpty();
    assertThat(found(blocks(40, 4, k -> k > 19 ? 0.05 : 0), 0)).hasSize(1);
  }

  @Test
  void aStepNoLargerThanTheReadingsOwnIsNone() {
    List<StepBlock> stepped = blocks(120, 5, k -> k > 60 ? 0.03 : 0);
    assertThat(found(stepped, 0.025)).hasSize(1);
    assertThat(found(stepped, 0.035)).isEmpty();
  }

  @Test
  void anAxisThatShowsNothingIsLookedPast() {
    List<StepBlock> stepped = blocks(120, 6, k -> k > 60 ? 0.03 : 0);
    double[] onlyX = {WHITE_DPS, Double.NaN, 0};
    assertThat(StepSearch.steps(stepped, onlyX, new double[3])).containsOnly(false);
    assertThat(StepSearch.steps(List.of(), WHITE, new double[3])).isEmpty();
  }
}
