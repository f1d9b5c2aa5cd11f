package soakbench.live;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Test;
import soakbench.model.Bin;
import soakbench.model.Bin.Channel;

/** What every store must do with bins. */
interface BinsContract extends StoreInTest {
  @Test
  default void binsComeBackExactly() {
    List<Bin> bins = List.of(bin(10, 0.1 + 0.2), bin(11, Math.PI), emptyBin(12));
    run(u -> u.writeBins(List.of(bins.get(2), bins.get(0), bins.get(1))));
    assertSame(read(u -> u.bins(tracker(), 10, 13)), bins);
    assertSame(read(u -> u.bins(tracker(), 10, 12)), bins.subList(0, 2));
    assertSame(read(u -> u.bins(tracker(), Long.MIN_VALUE, Long.MAX_VALUE)), bins);
  }

  @Test
  default void aBinWrittenAgainReplacesTheOldOne() {
    run(u -> u.writeBins(List.of(bin(10, 1), bin(11, 1))));
    run(u -> u.writeBins(List.of(bin(11, 2), bin(12, 2))));
    assertSame(read(u -> u.bins(tracker(), 0, 100)), List.of(bin(10, 1), bin(11, 2), bin(12, 2)));
  }

  @Test
  default void theLastOfTwoBinsForOneSecondInOneListStays() {
    run(u -> u.writeBins(List.of(bin(10, 1), bin(10, 2))));
    assertSame(read(u -> u.bins(tracker(), 0, 100)), List.of(bin(10, 2)));
  }

  /** To the last bit: doubles are printed so that no two different ones look the same. */
  private static void assertSame(List<Bin> found, List<Bin> expected) {
    assertThat(found.stream().map(BinsContract::text).toList())
        .isEqualTo(expected.stream().map(BinsContract::text).toList());
  }

  private static String text(Bin b) {
    return List.of(
            b.tracker(),
            b.second(),
            b.firstUs(),
            b.lastUs(),
            b.boot(),
            b.temperatureC(),
            Arrays.toString(b.gyroDps()),
            Arrays.toString(b.accelG()),
            b.temperatureStepC(),
            b.gyroStepDps())
        .toString();
  }

  private Bin emptyBin(long second) {
    Channel[] none = {Channel.EMPTY, Channel.EMPTY, Channel.EMPTY};
    long firstUs = second * 1_000_000;
    return new Bin(
        tracker(), second, firstUs, firstUs, 0, Channel.EMPTY, none, none, Double.NaN, Double.NaN);
  }
}
