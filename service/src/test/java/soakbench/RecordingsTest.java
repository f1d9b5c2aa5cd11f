package soakbench;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.InputStream;
import java.net.URISyntaxException;
import java.nio.file.Path;
import java.time.Instant;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.stream.DoubleStream;
import java.util.stream.StreamSupport;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import soakbench.ingest.source.Recording;
import soakbench.ingest.source.RecordingSummary;
import soakbench.live.SoakStore;
import soakbench.live.figures.SoakAnalysis;
import soakbench.live.memory.MemoryStore;
import soakbench.live.watch.SoakWatch;
import soakbench.model.Bin;
import soakbench.model.Estimate;
import soakbench.model.Limits;
import soakbench.model.Soak;
import soakbench.model.State;
import soakbench.model.StateChange;

/**
 * Recordings of simulated trackers, made by a simulator that is not this project's own, judged from
 * their bytes and held against what went into them.
 */
class RecordingsTest {

  enum File {
    /** A steady room, no disturbance. */
    T_77000C("T-77000C", ".jsonl.gz"),
    T_77002C("T-77002C", ".jsonl.gz"),
    /** Picked up, dropouts, chatter; CSV. */
    T_79000U("T-79000U", ".csv.gz"),
    /** Half-degree thermometer, lid opened, laid down otherwise, dirty lines, counter wraps. */
    T_77001N("T-77001N", ".jsonl.gz");

    final String tracker;
    final String ending;

    File(String tracker, String ending) {
      this.tracker = tracker;
      this.ending = ending;
    }
  }

  private record Replayed(
      RecordingSummary summary,
      List<Soak> soaks,
      List<StateChange> timeline,
      SoakAnalysis figures) {}

  private static final Map<File, Replayed> REPLAYED = new EnumMap<>(File.class);
  private static JsonNode truth;

  @BeforeAll
  static void replayAll() throws IOException, URISyntaxException {
    try (InputStream in = RecordingsTest.class.getResourceAsStream("/recordings/truth.json")) {
      truth = new ObjectMapper().readTree(in);
    }
    for (File file : File.values()) {
      REPLAYED.put(file, replayed(file));
    }
  }

  private static Replayed replayed(File file) throws IOException, URISyntaxException {
    String name = "/recordings/" + file.tracker + file.ending;
    Path path = Path.of(RecordingsTest.class.getResource(name).toURI());
    MemoryStore store = new MemoryStore();
    SoakWatch watch = new SoakWatch(store, Limits.DEFAULT, () -> 0);
    RecordingSummary summary = Recording.read(path, watch::accept);
    watch.finish();
    try (SoakStore.Unit unit = store.begin()) {
      List<Soak> soaks = unit.soaks(file.tracker, Long.MIN_VALUE);
      List<Bin> bins = unit.bins(file.tracker, Long.MIN_VALUE, Long.MAX_VALUE);
      SoakAnalysis figures = SoakAnalysis.of(bins, Limits.DEFAULT);
      return new Replayed(summary, soaks, unit.timeline(soaks.get(0).id()), figures);
    }
  }

  private static JsonNode truthOf(File file) {
    return StreamSupport.stream(truth.get("trackers").spliterator(), false)
        .filter(t -> t.get("tracker").asText().equals(file.tracker))
        .findFirst()
        .orElseThrow();
  }

  /** Seconds since the truth's second 0. */
  private static double seconds(StateChange change) {
    long startUs = Instant.parse(truth.get("start").asText()).getEpochSecond() * 1_000_000;
    return (change.timeUs() - startUs) / 1e6;
  }

  private static double[] entries(File file, State state) {
    return REPLAYED.get(file).timeline().stream()
        .filter(c -> c.state() == state)
        .mapToDouble(RecordingsTest::seconds)
        .toArray();
  }

  @ParameterizedTest
  @EnumSource
  void allSamplesLieInOneSoak(File file) {
    Replayed replayed = REPLAYED.get(file);
    assertThat(replayed.soaks()).hasSize(1);
    assertThat(replayed.soaks().get(0).samples()).isEqualTo(replayed.summary().samples());
    assertThat(replayed.soaks().get(0).samples()).isGreaterThan(17_000);
  }

  @ParameterizedTest
  @EnumSource
  void itBecomesReadyAndNeverWhereThatDoesHarm(File file) {
    assertThat(entries(file, State.READY)).isNotEmpty();
    for (double entry : entries(file, State.READY)) {
      for (JsonNode harmful : truthOf(file).get("harmful_intervals_s")) {
        assertThat(entry >= harmful.get(0).asDouble() && entry <= harmful.get(1).asDouble())
            .as("ready at %s s, harmful %s", entry, harmful)
            .isFalse();
      }
    }
  }

  @ParameterizedTest
  @EnumSource
  void everyBurstOfMotionIsFoundAtOnce(File file) {
    for (JsonNode motion : truthOf(file).get("motion")) {
      double from = motion.get(0).asDouble();
      assertThat(DoubleStream.of(entries(file, State.DISTURBED)).boxed())
          .as("motion from %s s", from)
          .anyMatch(s -> s >= from && s <= from + 3);
    }
  }

  @ParameterizedTest
  @EnumSource
  void nothingElseIsTakenForMotion(File file) {
    for (double s : entries(file, State.DISTURBED)) {
      assertThat(truthOf(file).get("motion"))
          .as("disturbed at %s s", s)
          .anyMatch(m -> s >= m.get(0).asDouble() && s <= m.get(1).asDouble() + 2);
    }
  }

  @ParameterizedTest
  @EnumSource(names = {"T_77000C", "T_77002C"})
  void theCleanOnesAreReadyOnceAndStaySo(File file) {
    List<StateChange> timeline = REPLAYED.get(file).timeline();
    assertThat(timeline.stream().map(StateChange::state))
        .containsExactly(State.STARTING, State.WARMING, State.SOAKING, State.READY);
  }

  @Test
  void readyComesWithinTwoMinutesOfTheTruth() {
    double ready = truthOf(File.T_77002C).get("ready_s").asDouble();
    assertThat(entries(File.T_77002C, State.READY)[0] - ready).isBetween(-15.0, 120.0);
  }

  @Test
  void thePlateauOfASteadyRoomLiesInItsInterval() {
    Estimate plateau = REPLAYED.get(File.T_77002C).figures().warmUp().plateauC();
    double truth = truthOf(File.T_77002C).get("plateau_c").asDouble();
    assertThat(plateau.low()).isLessThanOrEqualTo(truth);
    assertThat(plateau.high()).isGreaterThanOrEqualTo(truth);
    assertThat(plateau.high() - plateau.low()).isLessThan(0.1);
  }

  @ParameterizedTest
  @EnumSource(names = {"T_77000C", "T_77002C"})
  void theCoefficientsOfTheCleanOnesAreClose(File file) {
    var axes = REPLAYED.get(file).figures().biasCurve().axes();
    for (int axis = 0; axis < 3; axis++) {
      double truth = truthOf(file).get("tempco_31c_dps_per_c").get(axis).asDouble();
      Estimate found = axes.get(axis).figures().tempcoDpsPerC();
      assertThat(found.value()).as("axis %s", axis).isBetween(truth - 0.005, truth + 0.005);
    }
  }
}
