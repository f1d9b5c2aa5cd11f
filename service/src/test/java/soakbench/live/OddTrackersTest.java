package soakbench.live;

import static org.assertj.core.api.Assertions.assertThat;

import java.lang.reflect.Array;
import java.lang.reflect.InvocationTargetException;
import java.lang.reflect.RecordComponent;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.SplittableRandom;
import java.util.function.DoubleUnaryOperator;
import java.util.function.UnaryOperator;
import java.util.stream.StreamSupport;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import soakbench.live.figures.SoakAnalysis;
import soakbench.live.memory.MemoryStore;
import soakbench.live.watch.SoakWatch;
import soakbench.model.Bin;
import soakbench.model.Limits;
import soakbench.model.Sample;
import soakbench.model.State;
import soakbench.readiness.Condition;
import soakbench.readiness.Readiness;

/**
 * Trackers of which something is missing or wrong: each second has a verdict or a reason, and never
 * a number that is none.
 */
class OddTrackersTest {
  private static final float NONE = Float.NaN;

  /** Each is judged once for all that is asked of it. */
  private static final Map<Odd, Judged> JUDGED = new EnumMap<>(Odd.class);

  private static final Set<Class<?>> WITHOUT_FRACTION =
      Set.of(String.class, long.class, int.class, boolean.class, Long.class, Boolean.class);

  /** Parts of a class that may hold a number with a fraction, found once: there are millions. */
  private static final ClassValue<RecordComponent[]> PARTS =
      new ClassValue<>() {
        @Override
        protected RecordComponent[] computeValue(Class<?> type) {
          return Arrays.stream(type.getRecordComponents())
              .filter(part -> !WITHOUT_FRACTION.contains(part.getType()))
              .toArray(RecordComponent[]::new);
        }
      };

  /** What was said of each second, and what is kept of it all. */
  private record Judged(List<Readiness> verdicts, StoreContents stored, SoakAnalysis figures) {
    static Judged of(List<Sample> samples) {
      MemoryStore store = new MemoryStore();
      List<Readiness> verdicts = OddTrackersTest.verdicts(store, samples);
      StoreContents stored = StoreContents.of(store, Samples.TRACKER);
      return new Judged(verdicts, stored, SoakAnalysis.of(stored.bins(), Limits.DEFAULT));
    }
  }

  /** What is odd about a tracker. */
  enum Odd {
    CONSTANT_TEMPERATURE(900, 10, t -> 30.25, UnaryOperator.identity()),
    THREE_SAMPLES(0.3, 10, Odd::warming, UnaryOperator.identity()),
    ONE_SAMPLE(0.1, 10, Odd::warming, UnaryOperator.identity()),
    NO_TEMPERATURE(700, 10, t -> Double.NaN, UnaryOperator.identity()),
    NO_RATES(900, 10, Odd::warming, g -> new double[] {NONE, NONE, NONE}),
    NO_RATES_AND_CONSTANT(400, 10, t -> 30.25, g -> new double[] {NONE, NONE, NONE}),
    ONE_DEAD_AXIS(1500, 10, Odd::warming, g -> new double[] {0, g[1], g[2]}),
    ALL_AXES_DEAD(1500, 10, Odd::warming, g -> new double[] {0.5, 0.5, 0.5}),
    FULL_SCALE(1500, 10, Odd::warming, g -> new double[] {2000, -2000, g[2]}),
    ALL_MOVED(1500, 10, Odd::warming, new Shaking()),
    TWO_MINUTES(120, 10, Odd::warming, UnaryOperator.identity()),
    ONE_LINE_IN_FIVE_SECONDS(1800, 0.2, Odd::warming, UnaryOperator.identity()),
    ONE_LINE_A_SECOND(900, 1, Odd::warming, UnaryOperator.identity()),
    ONE_LINE_IN_TWO_SECONDS(1800, 0.5, Odd::warming, UnaryOperator.identity()),
    COLDEST_AND_STEADY(900, 10, t -> -40, UnaryOperator.identity()),
    HOTTEST_AND_STEADY(900, 10, t -> 125, UnaryOperator.identity()),
    JUMPING_TEMPERATURE(900, 10, t -> (int) (t / 30) % 2 == 0 ? 20 : 60, UnaryOperator.identity()),
    TEMPERATURE_LOST_HALF_WAY(900, 10, t -> t < 450 ? Odd.warming(t) : Double.NaN, g -> g);

    final double seconds;
    final double hz;
    final DoubleUnaryOperator temperature;
    final UnaryOperator<double[]> gyro;

    Odd(double seconds, double hz, DoubleUnaryOperator temperature, UnaryOperator<double[]> gyro) {
      this.seconds = seconds;
      this.hz = hz;
      this.temperature = temperature;
      this.gyro = gyro;
    }

    static double warming(double tS) {
      return 31 - 8 * Math.exp(-tS / 500);
    }

    List<Sample> samples() {
      SplittableRandom random = new SplittableRandom(5);
      List<Sample> out = new ArrayList<>();
      for (int i = 0; i < Math.round(seconds * hz); i++) {
        double tS = i / hz;
        double c = temperature.applyAsDouble(tS);
        double noise = c == Math.rint(c) || c == 30.25 ? 0 : 0.01 * random.nextGaussian();
        double[] g = new double[3];
        for (int axis = 0; axis < 3; axis++) {
          g[axis] = 0.2 * axis + 0.02 * random.nextGaussian();
        }
        g = gyro.apply(g);
        out.add(sample(Math.round(tS * 1e6), c + noise, g));
      }
      return out;
    }

    private static Sample sample(long afterUs, double celsius, double[] g) {
      return new Sample(
          Samples.TRACKER,
          Samples.START_US + afterUs,
          (float) celsius,
          false,
          (float) g[0],
          (float) g[1],
          (float) g[2],
          NONE,
          NONE,
          NONE,
          -1,
          -1);
    }
  }

  private static final class Shaking implements UnaryOperator<double[]> {
    private final SplittableRandom random = new SplittableRandom(6);

    @Override
    public double[] apply(double[] g) {
      double turn = 40 * random.nextGaussian();
      return new double[] {g[0] + turn, g[1] - turn, g[2] + turn / 2};
    }
  }

  @AfterAll
  static void forget() {
    JUDGED.clear();
  }

  @ParameterizedTest
  @EnumSource
  void everySecondHasAVerdictWithoutANumberThatIsNone(Odd odd) {
    List<Readiness> verdicts = verdicts(odd);
    assertThat(verdicts).isNotEmpty();
    for (Readiness r : verdicts) {
      assertNumbers(r, "readiness");
      assertThat(r.advice()).isNotBlank();
      assertThat(r.readyAt() != null).isNotEqualTo(r.readyTime().reason() != null);
      assertThat(r.conditions()).hasSize(8);
      r.conditions()
          .forEach(c -> assertThat(Boolean.TRUE.equals(c.met())).isEqualTo(c.reason() == null));
    }
  }

  @ParameterizedTest
  @EnumSource
  void itsFiguresAreNumbersOrReasons(Odd odd) {
    SoakAnalysis figures = judged(odd).figures();
    assertNumbers(figures.warmUp(), "warm_up");
    assertNumbers(figures.biasCurve(), "bias_curve");
    assertNumbers(figures.noise(), "noise");
    assertNumbers(figures.heading(), "heading");
  }

  @ParameterizedTest
  @EnumSource(
      names = {
        "NO_TEMPERATURE",
        "NO_RATES",
        "NO_RATES_AND_CONSTANT",
        "ONE_DEAD_AXIS",
        "ALL_AXES_DEAD",
        "FULL_SCALE",
        "ALL_MOVED",
        "TEMPERATURE_LOST_HALF_WAY",
        "ONE_LINE_IN_FIVE_SECONDS",
        "COLDEST_AND_STEADY",
        "HOTTEST_AND_STEADY",
        "JUMPING_TEMPERATURE",
        "TWO_MINUTES"
      })
  void itIsNeverReady(Odd odd) {
    assertThat(states(odd)).doesNotContain(State.READY);
  }

  @org.junit.jupiter.api.Test
  void theReasonsAreTheRightOnes() {
    assertThat(reasonOf(Odd.CONSTANT_TEMPERATURE))
        .isEqualTo("no curve: the temperature did not change");
    assertThat(states(Odd.HOTTEST_AND_STEADY)).contains(State.HOT);
    assertThat(states(Odd.NO_RATES)).contains(State.UNDECIDED);
    assertThat(states(Odd.ONE_LINE_IN_FIVE_SECONDS)).contains(State.UNDECIDED);
    assertThat(states(Odd.NO_TEMPERATURE)).containsOnly(State.STARTING);
    assertThat(states(Odd.ALL_MOVED)).doesNotContain(State.SOAKING).contains(State.DISTURBED);
    assertThat(states(Odd.FULL_SCALE)).doesNotContain(State.SOAKING).contains(State.DISTURBED);
    assertThat(states(Odd.ONE_DEAD_AXIS)).endsWith(State.UNDECIDED);
    assertThat(states(Odd.TEMPERATURE_LOST_HALF_WAY)).endsWith(State.STARTING);
    SoakAnalysis none = SoakAnalysis.of(List.<Bin>of(), Limits.DEFAULT);
    assertThat(none.warmUp().reason()).isEqualTo("no samples");
    assertNumbers(none, "figures");
  }

  @org.junit.jupiter.api.Test
  void aSlowStreamThatTurnsFastIsJudgedOnWithoutRest() {
    // Undecided lasts some seconds longer than its cause, when no shift is known yet.
    List<Sample> samples =
        new Samples.Maker().at(30).every(5).lines(300).every(0.1).lines(200).samples();
    List<Readiness> verdicts = verdicts(samples);
    assertThat(verdicts)
        .filteredOn(r -> r.state() == State.UNDECIDED)
        .extracting(Readiness::advice)
        .contains("can't say yet: ten seconds of lying still are needed first");
    assertThat(verdicts.get(verdicts.size() - 1).state()).isEqualTo(State.READY);
  }

  @ParameterizedTest
  @EnumSource(names = {"NO_RATES", "ONE_LINE_IN_FIVE_SECONDS"})
  void noTimeOfLyingStillIsToldWhereMotionCanNotBeSeen(Odd odd) {
    List<Condition> still =
        verdicts(odd).stream()
            .flatMap(r -> r.conditions().stream())
            .filter(c -> c.name().equals("still") && c.met() == null)
            .toList();
    assertThat(still).isNotEmpty().allSatisfy(c -> assertThat(c.found().value()).isNull());
  }

  @org.junit.jupiter.api.Test
  void aTrackerThatLiesColdIsNotSaidToFallOutOfTheBand() {
    List<Readiness> verdicts = verdicts(new Samples.Maker().at(22).lines(200).samples());
    assertThat(verdicts)
        .extracting(Readiness::advice)
        .noneMatch(a -> a.contains("falling out"))
        .contains("not warming: below the band by 6.0 °C, warm or cover it");
  }

  private static List<Readiness> verdicts(Odd odd) {
    return judged(odd).verdicts();
  }

  private static Judged judged(Odd odd) {
    return JUDGED.computeIfAbsent(odd, o -> Judged.of(o.samples()));
  }

  private static List<Readiness> verdicts(List<Sample> samples) {
    return verdicts(new MemoryStore(), samples);
  }

  private static List<Readiness> verdicts(MemoryStore store, List<Sample> samples) {
    SoakWatch watch = new SoakWatch(store, Limits.DEFAULT, () -> 0);
    List<Readiness> verdicts = new ArrayList<>();
    watch.subscribe(verdicts::addAll);
    for (Sample s : samples) {
      watch.accept(List.of(s));
    }
    watch.finish();
    return verdicts;
  }

  private static String reasonOf(Odd odd) {
    return judged(odd).figures().warmUp().reason();
  }

  private static List<State> states(Odd odd) {
    return judged(odd).stored().timeline(0).stream().map(c -> c.state()).toList();
  }

  /** Goes through everything that would be printed as a number. */
  private static void assertNumbers(Object value, String where) {
    String none = placeOfNone(value);
    assertThat(none).as(() -> where + none + " is no number").isNull();
  }

  /** Where in it a number is none; null where there is no such place. */
  private static String placeOfNone(Object value) {
    if (value instanceof Double number) {
      return Double.isFinite(number) ? null : "";
    }
    if (value instanceof Iterable<?> list) {
      return StreamSupport.stream(list.spliterator(), false)
          .map(OddTrackersTest::placeOfNone)
          .filter(Objects::nonNull)
          .findFirst()
          .orElse(null);
    }
    if (value != null && value.getClass().isArray()) {
      return placeOfNoneIn(value);
    }
    return value instanceof Record record ? placeOfNoneIn(record) : null;
  }

  private static String placeOfNoneIn(Object array) {
    for (int i = 0; i < Array.getLength(array); i++) {
      String place = placeOfNone(Array.get(array, i));
      if (place != null) {
        return "[" + i + "]" + place;
      }
    }
    return null;
  }

  private static String placeOfNoneIn(Record record) {
    for (RecordComponent c : PARTS.get(record.getClass())) {
      String place = placeOfNone(valueOf(c, record));
      if (place != null) {
        return "." + c.getName() + place;
      }
    }
    return null;
  }

  private static Object valueOf(RecordComponent component, Object record) {
    try {
      return component.getAccessor().invoke(record);
    } catch (IllegalAccessException | InvocationTargetException e) {
      throw new AssertionError(component.getName(), e);
    }
  }
}
