package soakbench.live;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import java.util.stream.IntStream;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import soakbench.demo.simulation.Mix;
import soakbench.demo.simulation.Recipe;
import soakbench.demo.simulation.RecipeGenerator;
import soakbench.demo.simulation.SimulateOptions;
import soakbench.demo.simulation.SimulateRun;
import soakbench.drift.curve.BiasCurve;
import soakbench.drift.noise.Noise;
import soakbench.ingest.source.Recording;
import soakbench.live.figures.SoakAnalysis;
import soakbench.live.memory.MemoryStore;
import soakbench.live.watch.SoakWatch;
import soakbench.model.Bin;
import soakbench.model.Limits;
import soakbench.model.Sample;
import soakbench.model.State;
import soakbench.model.StateChange;
import soakbench.readiness.Readiness;

/**
 * A simulated tracker whose temperature, or whose lines, come seldom; and one whose gyro reads one
 * and the same value.
 */
class SlowStreamsTest {
  private static final int HZ = 5;
  private static final int SECONDS = 3000;
  private static final float NONE = Float.NaN;

  /** Settles in the band. */
  private static final SimulateOptions OPTIONS =
      SimulateOptions.usual(4).withMix(Mix.CLEAN).printing(HZ).lasting(SECONDS);

  private static List<Sample> simulated;

  @BeforeAll
  static void simulate(@TempDir Path folder) throws IOException {
    Path file = folder.resolve("simulated.jsonl");
    try (OutputStream out = Files.newOutputStream(file)) {
      SimulateRun.write(OPTIONS, out, null);
    }
    List<Sample> all = new ArrayList<>();
    Recording.read(file, all::addAll);
    simulated = List.copyOf(all);
  }

  /** What was simulated at a moment, as it is printed then. */
  private static Sample line(double tS) {
    int at = Math.min(simulated.size() - 1, (int) Math.round(tS * HZ));
    return sample(simulated.get(at), tS, simulated.get(at).temperatureC(), false, null);
  }

  private static Sample sample(Sample s, double tS, float celsius, boolean held, double[] dps) {
    return new Sample(
        Samples.TRACKER,
        Samples.START_US + Math.round(1e6 * tS),
        celsius,
        held,
        dps == null ? s.gxDps() : (float) dps[0],
        dps == null ? s.gyDps() : (float) dps[1],
        dps == null ? s.gzDps() : (float) dps[2],
        NONE,
        NONE,
        NONE,
        -1,
        -1);
  }

  private record Judged(List<StateChange> timeline, Readiness last, SoakAnalysis figures) {

    List<State> states() {
      return timeline.stream().map(StateChange::state).toList();
    }
  }

  private static Judged judged(List<Sample> samples) {
    MemoryStore store = new MemoryStore();
    SoakWatch watch = new SoakWatch(store, Limits.DEFAULT, () -> 0);
    watch.accept(samples);
    Readiness last = watch.readiness(Samples.TRACKER).orElseThrow();
    watch.finish();
    try (SoakStore.Unit unit = store.begin()) {
      List<Bin> bins = unit.bins(Samples.TRACKER, Long.MIN_VALUE, Long.MAX_VALUE);
      String soak = unit.soaks(Samples.TRACKER, Long.MIN_VALUE).get(0).id();
      SoakAnalysis figures = SoakAnalysis.of(bins, Limits.DEFAULT);
      return new Judged(unit.timeline(soak), last, figures);
    }
  }

  /** Rates at their usual pace, a temperature that is measured once in so many seconds. */
  private static List<Sample> temperatureEvery(double everyS) {
    List<Sample> out = new ArrayList<>();
    double next = 0;
    float celsius = NONE;
    double measuredS = 0;
    for (int i = 0; i < simulated.size(); i++) {
      double tS = (double) i / HZ;
      boolean measured = tS >= next;
      if (measured) {
        next += everyS;
        celsius = simulated.get(i).temperatureC();
        measuredS = tS;
      }
      float known = tS - measuredS <= 30 ? celsius : NONE;
      out.add(sample(simulated.get(i), tS, known, !measured, null));
    }
    return out;
  }

  private static List<Sample> lines(double fromS, double toS) {
    SplittableRandom random = new SplittableRandom(9);
    List<Sample> out = new ArrayList<>();
    for (double t = 0; t < SECONDS; t += random.nextDouble(fromS, toS)) {
      out.add(line(t));
    }
    return out;
  }

  @ParameterizedTest
  @ValueSource(doubles = {15, 29.9})
  void aTemperatureThatIsHeldFromReadingToReadingGivesAVerdictAndACurve(double everyS) {
    Judged judged = judged(temperatureEvery(everyS));
    assertThat(judged.states()).contains(State.READY).hasSizeLessThanOrEqualTo(5);
    Recipe truth = RecipeGenerator.recipe(OPTIONS);
    BiasCurve curve = judged.figures().biasCurve();
    assertThat(curve.reason()).isNull();
    for (int axis = 0; axis < 3; axis++) {
      double[] c = truth.unit().axes().get(axis).coefficients();
      double d = curve.temperatures().operatingC() - 31;
      double slope = c[1] + d * (2 * c[2] + d * 3 * c[3]);
      assertThat(curve.axes().get(axis).figures().tempcoDpsPerC().value())
          .as("axis %d", axis)
          .isCloseTo(slope, within(0.004));
    }
    for (Noise.Axis axis : judged.figures().noise().axes()) {
      assertThat(axis.angleRandomWalkDegPerSqrtH().known()).isTrue();
      assertThat(axis.rateRandomWalkDpsPerSqrtS().known()).isFalse();
    }
  }

  @Test
  void aTemperatureOnceAMinuteIsTooSeldomAndThatIsSaidAndStays() {
    Judged judged = judged(temperatureEvery(60));
    assertThat(judged.states()).hasSizeLessThanOrEqualTo(2);
    assertThat(judged.last().advice()).contains("its temperature comes only every 60 s");
    assertThat(judged.figures().biasCurve().reason())
        .isEqualTo(
            "no curve: its temperature comes only every 60 s; one every 30 s or sooner is needed");
    for (Noise.Axis axis : judged.figures().noise().axes()) {
      assertThat(axis.rateRandomWalkDpsPerSqrtS().known()).as("true 0").isFalse();
    }
  }

  @ParameterizedTest
  @CsvSource({"9, 11, 8", "29, 31, 10", "58, 62, 10"})
  void pausesThatAreUsualAreNoSilences(double fromS, double toS, int most) {
    Judged judged = judged(lines(fromS, toS));
    assertThat(judged.states()).hasSizeLessThanOrEqualTo(most);
    int last = judged.timeline().size() - 1;
    assertThat(judged.timeline().get(last).timeUs() - Samples.START_US).isLessThan(1_500_000_000L);
    assertThat(judged.states().get(last)).isNotEqualTo(State.SILENT);
    assertThat(judged.states()).doesNotContain(State.READY);
    assertThat(judged.figures().biasCurve().reason()).contains("too slow");
  }

  @Test
  void aSlowStreamThatEndsIsSilentAfterTwoOfItsPauses() {
    List<Sample> samples = new ArrayList<>(lines(10, 10.001));
    Sample last = samples.get(200);
    List<Sample> cut = new ArrayList<>(samples.subList(0, 201));
    cut.add(line((last.timeUs() - Samples.START_US) / 1e6 + 60));
    List<StateChange> timeline = judged(cut).timeline();
    StateChange silent =
        timeline.stream().filter(c -> c.state() == State.SILENT).reduce((a, b) -> b).orElseThrow();
    assertThat((silent.timeUs() - last.timeUs()) / 1e6).isCloseTo(20, within(0.01));
  }

  private static List<Sample> stuck(double fromS, double[] dps) {
    return IntStream.range(0, simulated.size())
        .mapToObj(
            i -> {
              Sample s = simulated.get(i);
              double tS = (double) i / HZ;
              return sample(s, tS, s.temperatureC(), false, tS < fromS ? null : dps);
            })
        .toList();
  }

  @ParameterizedTest
  @CsvSource({"0, 0, 0", "0.3, -0.2, 0.1"})
  void aGyroThatReadsOneValueIsDeadAndNotCorrectedInside(double x, double y, double z) {
    Judged judged = judged(stuck(0, new double[] {x, y, z}));
    assertThat(judged.last().state()).isEqualTo(State.UNDECIDED);
    assertThat(judged.last().advice())
        .isEqualTo(
            "can't say: its gyro is dead or not printing: all axes read one and the same value;"
                + " look at its lines, power it off and on, then change the unit");
    BiasCurve curve = judged.figures().biasCurve();
    assertThat(curve.axes()).allSatisfy(a -> assertThat(a.reason()).contains("it is dead"));
    assertThat(judged.figures().noise().axes())
        .allSatisfy(
            a ->
                assertThat(a.angleRandomWalkDegPerSqrtH().reason())
                    .contains("do not change: no noise"));
  }

  @Test
  void aGyroThatDiesWhileItLiesReadyIsReadyNoLonger() {
    Judged judged = judged(stuck(2400, new double[] {0.3, -0.2, 0.1}));
    List<State> states = judged.states();
    assertThat(states).contains(State.READY);
    assertThat(states.get(states.size() - 1)).isEqualTo(State.UNDECIDED);
    assertThat(judged.last().advice()).contains("dead or not printing");
  }
}
