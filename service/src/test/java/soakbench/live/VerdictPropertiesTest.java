package soakbench.live;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.IdentityHashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.UnaryOperator;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import soakbench.Drawn;
import soakbench.demo.simulation.Mix;
import soakbench.demo.simulation.SimulateOptions;
import soakbench.live.memory.MemoryStore;
import soakbench.live.watch.SoakWatch;
import soakbench.model.LimitKey;
import soakbench.model.Limits;
import soakbench.model.Sample;
import soakbench.model.State;
import soakbench.model.StateChange;

/** What must hold of any tracker's verdicts, tried on simulated ones of every mix. */
class VerdictPropertiesTest {
  private static final int TRIES = 1;

  /** Of each in the bench form. */
  private static final int MANY = 8;

  private static final int LENGTH_S = 2700;
  private static final double RATE_HZ = 5;
  private static final Map<String, List<Sample>> RUNS = new ConcurrentHashMap<>();

  /** What is said of each run as it is: what is done to it is held against that. */
  private static final Map<List<Sample>, List<StateChange>> UNCHANGED = new IdentityHashMap<>();

  private static List<Sample> run(Drawn drawn) {
    return run(drawn.of(Mix.values()), drawn.from(0, 3));
  }

  /** Few runs, so that none is simulated twice; what is done to them varies more. */
  private static List<Sample> run(Mix mix, int seed) {
    SimulateOptions usual = SimulateOptions.usual(900 + seed);
    SimulateOptions options =
        SimulateOptions.usual(usual.run().seed())
            .withMix(mix)
            .lasting(LENGTH_S)
            .printing(RATE_HZ)
            .named(Samples.TRACKER);
    return RUNS.computeIfAbsent(mix + " " + seed, run -> Samples.simulated(options));
  }

  private static List<StateChange> judged(List<Sample> samples, Limits limits) {
    MemoryStore store = new MemoryStore();
    SoakWatch watch = new SoakWatch(store, limits, () -> 0);
    watch.accept(samples);
    watch.finish();
    return timeline(store, samples.get(0).tracker());
  }

  private static List<StateChange> judged(List<Sample> samples) {
    return judged(samples, Limits.DEFAULT);
  }

  private static List<StateChange> unchanged(List<Sample> run) {
    return UNCHANGED.computeIfAbsent(run, VerdictPropertiesTest::judged);
  }

  /** The changes of all its soaks. */
  private static List<StateChange> timeline(SoakStore store, String tracker) {
    StoreContents kept = StoreContents.of(store, tracker);
    assertThat(kept.soaks()).isNotEmpty();
    return kept.soaks().stream().flatMap(s -> kept.timelines().get(s.id()).stream()).toList();
  }

  private static List<Sample> changed(List<Sample> samples, UnaryOperator<Sample> change) {
    return samples.stream().map(change).toList();
  }

  @Test
  void shiftedByWholeSecondsItIsTheSameButForItsTimes() {
    Drawn.casesFrom(41, TRIES, VerdictPropertiesTest::isTheSameShifted);
  }

  private static void isTheSameShifted(Drawn drawn) {
    List<Sample> run = run(drawn);
    long shiftS = drawn.from(-100_000_000L, 100_000_000L);
    long us = shiftS * 1_000_000;
    List<StateChange> shifted = judged(changed(run, s -> at(s, s.tracker(), s.timeUs() + us)));
    assertThat(shifted)
        .isEqualTo(
            unchanged(run).stream()
                .map(c -> new StateChange(c.timeUs() + us, c.state(), c.revised()))
                .toList());
  }

  @Test
  void underAnotherNameItIsTheSame() {
    Drawn.casesFrom(42, TRIES, VerdictPropertiesTest::isTheSameRenamed);
  }

  private static void isTheSameRenamed(Drawn drawn) {
    List<Sample> run = run(drawn);
    List<Sample> renamed = changed(run, s -> at(s, "a.Quite:other_name-9", s.timeUs()));
    assertThat(judged(renamed)).isEqualTo(unchanged(run));
  }

  @Test
  void cutIntoAnyBatchesItIsTheSame() {
    Drawn.casesFrom(43, TRIES, VerdictPropertiesTest::isTheSameInBatches);
  }

  private static void isTheSameInBatches(Drawn drawn) {
    List<Sample> run = run(drawn);
    int most = drawn.from(1, 2000);
    MemoryStore store = new MemoryStore();
    SoakWatch watch = new SoakWatch(store, Limits.DEFAULT, () -> 0);
    for (List<Sample> batch : batches(run, most, drawn.random())) {
      watch.accept(batch);
    }
    watch.finish();
    assertThat(timeline(store, Samples.TRACKER)).isEqualTo(unchanged(run));
  }

  @Test
  void liveAndAcrossARestartItIsTheSameToTheMicrosecond() {
    Drawn.casesFrom(44, TRIES, VerdictPropertiesTest::isTheSameLive);
  }

  private static void isTheSameLive(Drawn drawn) {
    List<Sample> run = run(drawn);
    int mostMs = drawn.from(50, 1500);
    double restartAt = drawn.from(0.0, 1.0);
    MemoryStore store = new MemoryStore();
    ManualClock clock = new ManualClock(run.get(0).timeUs());
    SoakWatch watch = new SoakWatch(store, Limits.DEFAULT, clock);
    Random random = drawn.random();
    int restart = (int) (restartAt * (run.size() - 1));
    for (int from = 0; from < run.size(); ) {
      clock.pass((1 + random.nextInt(mostMs)) / 1e3);
      int to = heardBy(run, from, clock.nowUs());
      if (from <= restart && restart < to) {
        watch = new SoakWatch(store, Limits.DEFAULT, clock);
        watch.restore();
      }
      watch.accept(run.subList(from, to));
      watch.tick();
      from = to;
    }
    watch.finish();
    assertThat(timeline(store, Samples.TRACKER)).isEqualTo(unchanged(run));
  }

  private static int heardBy(List<Sample> run, int from, long nowUs) {
    int to = from;
    while (to < run.size() && run.get(to).timeUs() <= nowUs) {
      to++;
    }
    return to;
  }

  @Test
  void aLargerLimitNeverMakesReadyLater() {
    Drawn.casesFrom(45, TRIES, VerdictPropertiesTest::isReadyNoLaterByLargerLimits);
  }

  private static void isReadyNoLaterByLargerLimits(Drawn drawn) {
    List<Sample> run = run(drawn);
    double shiftTimes = drawn.from(1.0, 4.0);
    double rateTimes = drawn.from(1.0, 4.0);
    Limits d = Limits.DEFAULT;
    Limits larger =
        new SomeLimits()
            .and(LimitKey.SHIFT_LIMIT_DPS, d.shiftLimitDps() * shiftTimes)
            .and(
                LimitKey.TEMPERATURE_RATE_LIMIT_C_PER_MIN,
                d.temperatureRateLimitCPerMin() * rateTimes)
            .limits();
    assertThat(firstReadyUs(judged(run, larger))).isLessThanOrEqualTo(firstReadyUs(unchanged(run)));
  }

  @Test
  void askingForLessNeverMakesReadyLater() {
    Drawn.casesFrom(47, TRIES, VerdictPropertiesTest::isReadyNoLaterAskedForLess);
  }

  private static void isReadyNoLaterAskedForLess(Drawn drawn) {
    List<Sample> run = run(drawn);
    double widerC = drawn.from(0.0, 4.0);
    double dwellTimes = drawn.from(0.0, 1.0);
    double stillTimes = drawn.from(0.02, 1.0);
    Limits d = Limits.DEFAULT;
    Limits less =
        new SomeLimits()
            .and(LimitKey.BAND_LOW_C, d.bandLowC() - widerC)
            .and(LimitKey.BAND_HIGH_C, d.bandHighC() + widerC)
            .and(LimitKey.DWELL_S, d.dwellS() * dwellTimes)
            .and(LimitKey.STILL_FOR_S, d.stillForS() * stillTimes)
            .limits();
    assertThat(firstReadyUs(judged(run, less))).isLessThanOrEqualTo(firstReadyUs(unchanged(run)));
  }

  private static long firstReadyUs(List<StateChange> timeline) {
    return timeline.stream()
        .filter(c -> c.state() == State.READY)
        .mapToLong(StateChange::timeUs)
        .findFirst()
        .orElse(Long.MAX_VALUE);
  }

  @Test
  void withItsAxesNamedAndTurnedOtherwiseItIsTheSame() {
    Drawn.casesFrom(46, TRIES, VerdictPropertiesTest::isTheSameTurned);
  }

  private static void isTheSameTurned(Drawn drawn) {
    List<Sample> run = run(drawn);
    int order = drawn.from(0, 5);
    int signs = drawn.from(0, 7);
    int[][] orders = {{0, 1, 2}, {0, 2, 1}, {1, 0, 2}, {1, 2, 0}, {2, 0, 1}, {2, 1, 0}};
    int[] sign = {(signs & 1) * 2 - 1, (signs & 2) - 1, (signs & 4) / 2 - 1};
    assertThat(judged(changed(run, s -> turned(s, orders[order], sign)))).isEqualTo(unchanged(run));
  }

  @Test
  @Tag("bench")
  void allOfThatHoldsOfMore() {
    Drawn.casesFrom(41, MANY, VerdictPropertiesTest::isTheSameShifted);
    Drawn.casesFrom(42, MANY, VerdictPropertiesTest::isTheSameRenamed);
    Drawn.casesFrom(43, MANY, VerdictPropertiesTest::isTheSameInBatches);
    Drawn.casesFrom(44, MANY, VerdictPropertiesTest::isTheSameLive);
    Drawn.casesFrom(45, 2 * MANY, VerdictPropertiesTest::isReadyNoLaterByLargerLimits);
    Drawn.casesFrom(47, 2 * MANY, VerdictPropertiesTest::isReadyNoLaterAskedForLess);
    Drawn.casesFrom(46, 2 * MANY, VerdictPropertiesTest::isTheSameTurned);
  }

  private static List<List<Sample>> batches(List<Sample> run, int most, Random random) {
    List<List<Sample>> out = new ArrayList<>();
    for (int from = 0; from < run.size(); ) {
      int to = Math.min(run.size(), from + 1 + random.nextInt(most));
      out.add(run.subList(from, to));
      from = to;
    }
    return out;
  }

  private static Sample turned(Sample s, int[] order, int[] sign) {
    float[] gyro = {s.gxDps(), s.gyDps(), s.gzDps()};
    float[] accel = {s.axG(), s.ayG(), s.azG()};
    return with(s, s.tracker(), s.timeUs(), turned(gyro, order, sign), turned(accel, order, sign));
  }

  private static float[] turned(float[] axes, int[] order, int[] sign) {
    float[] out = Arrays.copyOf(axes, 3);
    for (int axis = 0; axis < 3; axis++) {
      out[axis] = sign[axis] * axes[order[axis]];
    }
    return out;
  }

  private static Sample at(Sample s, String tracker, long timeUs) {
    float[] gyro = {s.gxDps(), s.gyDps(), s.gzDps()};
    return with(s, tracker, timeUs, gyro, new float[] {s.axG(), s.ayG(), s.azG()});
  }

  private static Sample with(Sample s, String tracker, long timeUs, float[] gyro, float[] accel) {
    return new Sample(
        tracker,
        timeUs,
        s.temperatureC(),
        s.temperatureHeld(),
        gyro[0],
        gyro[1],
        gyro[2],
        accel[0],
        accel[1],
        accel[2],
        s.seq(),
        s.tMs());
  }
}
