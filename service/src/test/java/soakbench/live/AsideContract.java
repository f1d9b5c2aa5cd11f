package soakbench.live;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Set;
import org.junit.jupiter.api.Test;
import soakbench.live.SoakStore.Written;
import soakbench.model.Soak;

/** What every store must do where a tracker's clock was set back. */
interface AsideContract extends StoreInTest {
  @Test
  default void whatIsSetAsideIsReadNoMoreAndKnownWhenItComesAgain() {
    write(List.of(sample(0), sample(10), sample(20), sample(30)));
    run(u -> u.setAside(tracker(), START_US + 10, START_US + 30, Set.of(START_US + 20)));
    assertThat(stored()).isEqualTo(List.of(sample(0), sample(20), sample(30)));
    assertThat(write(List.of(sample(10)))).isEqualTo(new Written(List.of(), 1, 0));
    var other = sample(10).withTemperatureC(50);
    assertThat(write(List.of(other, sample(10)))).isEqualTo(new Written(List.of(other), 1, 0));
    assertThat(stored()).isEqualTo(List.of(sample(0), other, sample(20), sample(30)));
  }

  @Test
  default void binsAreRemovedWithTheFirstAndWithoutTheEnd() {
    run(u -> u.writeBins(List.of(bin(5, 1), bin(6, 1), bin(7, 1))));
    run(u -> u.deleteBins(tracker(), 5, 7));
    assertThat(read(u -> u.bins(tracker(), 0, 100)).stream().map(b -> b.second()).toList())
        .isEqualTo(List.of(7L));
  }

  @Test
  default void theSoakThatGoesOnIsTheLastWhateverItsTime() {
    Soak goesOn = soak("a", 0, 100, null);
    run(u -> u.writeSoak(goesOn));
    run(u -> u.writeSoak(soak("b", 200, 300, Soak.End.CLOCK_SET)));
    assertThat(read(SoakStore.Unit::lastSoaks).contains(goesOn)).isTrue();
  }
}
