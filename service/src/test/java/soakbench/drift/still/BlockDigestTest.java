package soakbench.drift.still;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.assertj.core.data.Offset;
import org.junit.jupiter.api.Test;
import soakbench.numerics.Measured;

class BlockDigestTest {
  private static final double WHITE = 0.004;
  private static final double FLICKER = 0.0005;
  private static final BiasModel.Prior PRIOR = new BiasModel.Prior(0.05, 0.003, 0.0003);

  private final SplittableRandom random = new SplittableRandom(20);

  /** A warm-up of ten degrees, seen in poses of so many blocks each. */
  private List<BiasBlock> warmUp(int count, int blocksAPose) {
    List<BiasBlock> out = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      double s = 30 * i + 15;
      double celsius = 31 - 10 * Math.exp(-s / 900);
      int pose = i / blocksAPose;
      double bias = 0.3 + 0.004 * (pose % 3) + 0.02 * (celsius - 31);
      double[] axes = new double[3];
      for (int axis = 0; axis < 3; axis++) {
        axes[axis] = bias + WHITE / Math.sqrt(30) * random.nextGaussian();
      }
      out.add(new BiasBlock(s, 30, celsius, axes, pose));
    }
    return out;
  }

  private static BlockDigest digest(List<BiasBlock> blocks) {
    BlockDigest digest = new BlockDigest();
    blocks.forEach(digest::add);
    return digest;
  }

  private static BiasModel fit(List<BiasBlock> blocks) {
    return BiasModel.of(blocks, 0, 2, 31, WHITE, FLICKER, PRIOR);
  }

  @Test
  void tenHoursBecomeFewBlocksWithoutLosingASecond() {
    List<BiasBlock> all = warmUp(1200, 1200);
    List<BiasBlock> few = digest(all).blocks();
    assertThat(few).hasSize(BlockDigest.MOST_BLOCKS);
    assertThat(few.stream().mapToDouble(BiasBlock::widthS).sum()).isEqualTo(36_000);
    assertThat(few.subList(60, 80)).isEqualTo(all.subList(1180, 1200));
  }

  @Test
  void theCurveOfALongSoakIsTheOneThatAllItsBlocksShow() {
    List<BiasBlock> all = warmUp(400, 100);
    BiasModel whole = fit(all);
    BiasModel digested = fit(digest(all).blocks());
    for (double celsius : new double[] {23, 27, 31}) {
      Measured expected = whole.slopeAt(celsius);
      Measured slope = digested.slopeAt(celsius);
      assertThat(slope.value()).isEqualTo(expected.value(), Offset.offset(0.35 * expected.se()));
      assertThat(slope.se() / expected.se()).isBetween(0.97, 1.1);
    }
  }

  @Test
  void aPoseOfOneBlockSaysNothingSoLettingItGoChangesNothing() {
    List<BiasBlock> mixed = new ArrayList<>();
    for (BiasBlock b : warmUp(45, 15)) {
      boolean lone = (int) b.midS() % 450 > 300 && (int) b.midS() % 450 < 345;
      int pose = lone ? 100 * b.segment() + (int) b.midS() : 100 * b.segment();
      mixed.add(new BiasBlock(b.midS(), 30, b.temperatureC(), b.biasDps(), pose));
    }
    List<BiasBlock> few = digest(mixed).blocks();
    assertThat(few.size()).isLessThan(mixed.size());
    BiasModel whole = fit(mixed);
    BiasModel digested = fit(few);
    for (int k = 0; k < 2; k++) {
      double expected = whole.slopeCoefficients()[k];
      assertThat(digested.slopeCoefficients()[k]).isEqualTo(expected, Offset.offset(1e-9));
      double variance = whole.covariance()[k][k];
      assertThat(digested.covariance()[k][k] / variance).isEqualTo(1, Offset.offset(1e-6));
    }
  }

  @Test
  void aUnitThatIsTurnedOverAllDayKeepsFewPoses() {
    for (int blocksAPose : new int[] {1, 2, 3}) {
      List<BiasBlock> all = warmUp(1200, blocksAPose);
      BlockDigest digest = digest(all);
      List<BiasBlock> few = digest.blocks();
      assertThat(few.size()).isLessThanOrEqualTo(BlockDigest.MOST_BLOCKS);
      assertThat(few.get(few.size() - 1)).isEqualTo(all.get(1199));
      assertThat(few.stream().map(BiasBlock::segment).distinct().count()).isLessThanOrEqualTo(41);
      assertThat(digest.spanC()).isEqualTo(10, Offset.offset(0.2));
    }
  }

  @Test
  void posesAreNotMixed() {
    List<BiasBlock> many = new ArrayList<>();
    for (int i = 0; i < 1000; i++) {
      many.add(new BiasBlock(30 * i + 15, 30, 25, new double[] {i / 500, 0, 0}, i / 500));
    }
    assertThat(digest(many).blocks()).allMatch(b -> b.biasDps()[0] == b.segment());
  }
}
