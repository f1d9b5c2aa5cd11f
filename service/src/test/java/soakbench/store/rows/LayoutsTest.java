package soakbench.store.rows;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.sql.Connection;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SplittableRandom;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import soakbench.live.StaleRange;
import soakbench.model.Bin;
import soakbench.model.Bin.Channel;
import soakbench.model.Sample;
import soakbench.store.Samples;
import soakbench.store.SharedServer;
import soakbench.store.connection.Query;
import soakbench.store.server.DatabaseSettings;

/** Samples, bins and late seconds, written and read again; every test's rows are rolled back. */
class LayoutsTest {
  private static final DatabaseSettings SETTINGS = SharedServer.empty();
  private static final long SECOND = 1_772_352_000;

  private final SplittableRandom random = new SplittableRandom(3);
  private Connection connection;

  @BeforeEach
  void begin() throws SQLException {
    connection = SharedServer.connect(SETTINGS);
    connection.setAutoCommit(false);
  }

  @AfterEach
  void end() throws SQLException {
    connection.rollback();
    connection.close();
  }

  private Channel channel(int count) {
    double sd = count < 2 ? Double.NaN : random.nextDouble();
    return count == 0 ? Channel.EMPTY : new Channel(count, random.nextDouble(-90, 90), sd);
  }

  private Channel[] three(int count) {
    return new Channel[] {channel(count), channel(count), channel(count)};
  }

  private Bin bin(String tracker, long second, int count) {
    long fromUs = second * 1_000_000;
    return new Bin(
        tracker,
        second,
        fromUs + 1,
        fromUs + 999_999,
        3,
        channel(count),
        three(count),
        three(0),
        Double.NaN,
        1e-300);
  }

  /** All that a bin holds; as objects, so that a not-a-number equals itself. */
  private static List<Object> parts(Bin bin) {
    return List.of(
        bin.tracker(),
        bin.second(),
        bin.firstUs(),
        bin.lastUs(),
        bin.boot(),
        bin.temperatureC(),
        List.of(bin.gyroDps()),
        List.of(bin.accelG()),
        bin.temperatureStepC(),
        bin.gyroStepDps());
  }

  @Test
  void aBinComesBackBitByBit() throws SQLException {
    List<Bin> bins = new ArrayList<>();
    for (int count = 0; count < 50; count++) {
      bins.add(bin("A-1", SECOND + count, count));
    }
    BinLayout.INSTANCE.copy(connection, "bin", bins);
    assertThat(Series.bins(connection, "A-1", Long.MIN_VALUE, Long.MAX_VALUE))
        .extracting(LayoutsTest::parts)
        .containsExactlyElementsOf(bins.stream().map(LayoutsTest::parts).toList());
  }

  @Test
  void binsAreReadAndDeletedFromTheFirstSecondToBeforeTheLast() throws SQLException {
    List<Bin> bins = new ArrayList<>();
    for (int i = 0; i < 10; i++) {
      bins.add(bin("A-1", SECOND + i, 5));
    }
    bins.add(bin("A-2", SECOND + 3, 5));
    BinLayout.INSTANCE.copy(connection, "bin", bins);
    assertThat(Series.bins(connection, "A-1", SECOND + 2, SECOND + 5))
        .extracting(Bin::second)
        .containsExactly(SECOND + 2, SECOND + 3, SECOND + 4);
    assertThat(Series.deleteBins(connection, "A-1", SECOND + 2, SECOND + 5)).isEqualTo(3);
    assertThat(Series.bins(connection, "A-1", SECOND, SECOND + 100)).hasSize(7);
    assertThat(Series.bins(connection, "A-2", SECOND, SECOND + 100)).hasSize(1);
  }

  @Test
  void aSampleComesBackWithWhatItLacks() throws SQLException {
    float nan = Float.NaN;
    Sample bare = new Sample("A-1", -1, nan, true, nan, nan, nan, nan, nan, nan, -1, -1);
    Sample full =
        new Sample("A-1", 5, Float.MIN_VALUE, false, -0f, 1, 2, 3, 4, 5, Long.MAX_VALUE, 0);
    SampleLayout.INSTANCE.copy(connection, "sample", List.of(bare, full));
    assertThat(Series.samples(connection, "A-1", Long.MIN_VALUE, Long.MAX_VALUE))
        .containsExactly(bare, full);
  }

  @Test
  void samplesAreCountedAndFoundByTheirTime() throws SQLException {
    List<Sample> samples = Samples.samples("A-1", 0, 100);
    SampleLayout.INSTANCE.copy(connection, "sample", samples);
    long tenth = samples.get(10).timeUs();
    long twentieth = samples.get(20).timeUs();
    assertThat(Series.countSamples(connection, "A-1", tenth, twentieth)).isEqualTo(10);
    assertThat(Series.nextSampleUs(connection, "A-1", tenth)).hasValue(tenth);
    assertThat(Series.nextSampleUs(connection, "A-1", tenth + 1))
        .hasValue(samples.get(11).timeUs());
    assertThat(Series.nextSampleUs(connection, "A-1", Long.MAX_VALUE)).isEmpty();
    assertThat(Series.nextSampleUs(connection, "A-2", 0)).isEmpty();
  }

  @Test
  void aTextThatNoFieldHoldsIsRefusedAndTheCopyGivenUp() throws SQLException {
    Sample sample = new Sample("x".repeat(4_000), 0, 1, false, 1, 1, 1, 1, 1, 1, 1, 1);
    assertThatThrownBy(() -> SampleLayout.INSTANCE.copy(connection, "sample", List.of(sample)))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessage("text of 4000 bytes is too long");
    connection.rollback();
    String sql = "SELECT count(*) FROM sample";
    assertThat(Query.list(connection, rows -> rows.getInt(1), sql)).containsExactly(0);
  }

  @Test
  void lateSecondsOfATrackerGrowTogetherUntilTheyAreCleared() throws SQLException {
    StaleRanges.put(connection, Map.of("A-1", new StaleRange(10, 12)));
    StaleRanges.put(connection, Map.of("A-1", StaleRange.of(20)));
    StaleRanges.put(connection, Map.of("A-1", new StaleRange(11, 15)));
    StaleRanges.put(connection, Map.of("A-0", StaleRange.of(3)));
    assertThat(StaleRanges.find(connection, "A-1")).contains(new StaleRange(10, 20));
    StaleRanges.put(connection, Map.of("A-1", StaleRange.of(5)));
    assertThat(StaleRanges.find(connection, "A-1")).contains(new StaleRange(5, 20));
    assertThat(StaleRanges.trackers(connection)).containsExactly("A-0", "A-1");
    assertThat(StaleRanges.clear(connection, "A-1")).isEqualTo(1);
    assertThat(StaleRanges.find(connection, "A-1")).isEqualTo(Optional.empty());
    assertThat(StaleRanges.trackers(connection)).containsExactly("A-0");
  }
}
