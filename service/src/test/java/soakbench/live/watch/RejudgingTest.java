package soakbench.live.watch;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Map;
import java.util.OptionalLong;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import soakbench.demo.simulation.Mix;
import soakbench.demo.simulation.SimulateOptions;
import soakbench.live.ManualClock;
import soakbench.live.RosterRates;
import soakbench.live.Samples;
import soakbench.live.SomeLimits;
import soakbench.live.StoreContents;
import soakbench.live.memory.MemoryStore;
import soakbench.model.Bin;
import soakbench.model.LimitKey;
import soakbench.model.Limits;
import soakbench.model.Sample;
import soakbench.model.Soak;
import soakbench.model.SoakTerms;
import soakbench.model.StateChange;

/** A soak judged again from its bins is as if it had begun by those limits. */
class RejudgingTest {
  private static final List<Limits> LIMITS =
      List.of(
          Limits.DEFAULT,
          SomeLimits.with(LimitKey.DWELL_S, 300),
          SomeLimits.with(LimitKey.HEARD_WITHIN_S, 3),
          new SomeLimits()
              .and(LimitKey.BAND_LOW_C, 25)
              .and(LimitKey.SHIFT_LIMIT_DPS, 0.03)
              .and(LimitKey.TEMPERATURE_RATE_LIMIT_C_PER_MIN, 0.5)
              .limits());

  private static List<Sample> simulated(Mix mix, long seed) {
    SimulateOptions usual = SimulateOptions.usual(seed);
    return Samples.simulated(
        SimulateOptions.usual(seed).withMix(mix).lasting(2700).printing(5).named(Samples.TRACKER));
  }

  private static StoreContents judged(List<Sample> samples, Limits limits) {
    MemoryStore store = new MemoryStore();
    SoakWatch watch = new SoakWatch(store, limits, () -> 0);
    watch.accept(samples);
    return StoreContents.of(store, Samples.TRACKER);
  }

  @ParameterizedTest
  @EnumSource(Mix.class)
  void itSaysWhatTheSoakWouldHaveSaid(Mix mix) {
    saysWhatTheSoakWouldHaveSaid(mix, 910);
  }

  @ParameterizedTest
  @EnumSource(Mix.class)
  @Tag("bench")
  void itSaysSoOfAnother(Mix mix) {
    saysWhatTheSoakWouldHaveSaid(mix, 911);
  }

  private static void saysWhatTheSoakWouldHaveSaid(Mix mix, long seed) {
    List<Sample> samples = simulated(mix, seed);
    StoreContents own = judged(samples, Limits.DEFAULT);
    for (Limits limits : LIMITS) {
      StoreContents would = judged(samples, limits);
      for (Soak soak : own.soaks()) {
        assertThat(again(soak, own, limits))
            .as("%s %s %s", mix, seed, limits)
            .isEqualTo(would.timelines().get(soak.id()));
      }
    }
  }

  private static List<StateChange> again(Soak soak, StoreContents own, Limits limits) {
    Rejudging again = new Rejudging(soak, SoakTerms.of(limits), RosterRates.NOTHING);
    for (Bin bin : own.bins()) {
      if (bin.firstUs() >= soak.startUs() && bin.lastUs() <= soak.endUs()) {
        again.accept(bin);
      }
    }
    return again.timeline(own.timelines().get(soak.id()));
  }

  @ParameterizedTest
  @EnumSource(Soak.End.class)
  void itSaysSoHoweverTheSoakEnded(Soak.End end) {
    Map<Soak.End, Samples.Maker> lives =
        Map.of(
            Soak.End.SILENCE, new Samples.Maker().lines(200).quiet(700),
            Soak.End.LATE_REBOOT, new Samples.Maker().lines(200).quiet(200).reboot(),
            Soak.End.COOLER_REBOOT, new Samples.Maker().lines(200).quiet(30).reboot().at(20),
            Soak.End.TAKEN_OFF, new Samples.Maker().lines(200),
            Soak.End.CLOCK_SET, new Samples.Maker().lines(200));
    List<Sample> samples = lives.get(end).lines(60).samples();
    StoreContents own = ended(samples, Limits.DEFAULT, end);
    assertThat(own.soaks().get(0).ended()).isEqualTo(end);
    Limits others = SomeLimits.with(LimitKey.BAND_LOW_C, 24);
    assertThat(again(own.soaks().get(0), own, others))
        .isEqualTo(ended(samples, others, end).timeline(0));
  }

  private static StoreContents ended(List<Sample> samples, Limits limits, Soak.End end) {
    MemoryStore store = new MemoryStore();
    ManualClock clock = new ManualClock(0);
    SoakWatch watch = new SoakWatch(store, limits, clock);
    watch.accept(samples);
    if (end == Soak.End.TAKEN_OFF) {
      watch.end(StoreContents.of(store, Samples.TRACKER).soaks().get(0).id());
    }
    if (end == Soak.End.CLOCK_SET) {
      List<Sample> back = ClockSetTest.shifted(samples.subList(0, 100), -86_400);
      watch.useLiveness(t -> OptionalLong.of(back.get(99).timeUs()));
      watch.accept(back.subList(0, 50));
      clock.pass(5);
      watch.accept(back.subList(50, 100));
      StoreContents both = StoreContents.of(store, Samples.TRACKER);
      return new StoreContents(both.soaks().subList(1, 2), both.timelines(), both.bins());
    }
    return StoreContents.of(store, Samples.TRACKER);
  }
}
