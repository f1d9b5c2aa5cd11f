package soakbench.drift;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Comparator;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import soakbench.demo.simulation.Mix;
import soakbench.demo.simulation.SimulateOptions;
import soakbench.live.Samples;
import soakbench.live.SoakStore;
import soakbench.live.StoreContents;
import soakbench.live.memory.MemoryStore;
import soakbench.live.watch.SoakWatch;
import soakbench.model.Bin;
import soakbench.model.Limits;
import soakbench.model.Soak;

/** What many tests take for a simulated tracker's bins, held against what the service keeps. */
class SimulatedBinsTest {

  @ParameterizedTest
  @EnumSource(names = {"NASTY", "STRANGE"})
  void theBinsAreThoseThatTheServiceKeeps(Mix mix) {
    areThoseKept(mix, 9, 11, 1500);
  }

  @ParameterizedTest
  @EnumSource
  @Tag("bench")
  void theBinsOfManyAreThoseThatTheServiceKeeps(Mix mix) {
    areThoseKept(mix, 500, 520, 3600);
  }

  private static void areThoseKept(Mix mix, long from, long to, int seconds) {
    for (long seed = from; seed < to; seed++) {
      SimulateOptions options =
          SimulateOptions.usual(seed).withMix(mix).named(Samples.TRACKER).lasting(seconds);
      StoreContents kept = kept(options);
      Soak longest =
          kept.soaks().stream().max(Comparator.comparingLong(s -> bins(kept, s))).orElseThrow();
      List<Bin> of = kept.bins().stream().filter(b -> isOf(longest, b)).toList();
      List<Bin> made = SimulatedBins.of(options);
      assertThat(made).as("seed %s", seed).hasSizeGreaterThan(100);
      new StoreContents(List.of(), Map.of(), made)
          .isSameAs(new StoreContents(List.of(), Map.of(), of));
    }
  }

  private static long bins(StoreContents kept, Soak soak) {
    return kept.bins().stream().filter(b -> isOf(soak, b)).count();
  }

  private static boolean isOf(Soak soak, Bin bin) {
    return bin.second() >= soak.startSecond() && bin.second() <= soak.endSecond();
  }

  private static StoreContents kept(SimulateOptions options) {
    SoakStore store = new MemoryStore();
    SoakWatch watch = new SoakWatch(store, Limits.DEFAULT, () -> 0);
    watch.accept(Samples.simulated(options));
    watch.finish();
    return StoreContents.of(store, Samples.TRACKER);
  }
}
