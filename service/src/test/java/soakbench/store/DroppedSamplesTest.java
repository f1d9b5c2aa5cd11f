package soakbench.store;

import static org.assertj.core.api.Assertions.assertThat;

import java.sql.Connection;
import java.sql.Statement;
import java.util.List;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import soakbench.live.SoakStore;
import soakbench.live.calibration.CalibrationDeriver;
import soakbench.live.figures.FigureDeriver;
import soakbench.live.watch.SoakWatch;
import soakbench.lots.UnitSoak;
import soakbench.model.Limits;
import soakbench.model.Sample;
import soakbench.model.Soak;
import soakbench.model.StateChange;
import soakbench.store.rows.SqlTimes;
import soakbench.store.server.DatabaseSettings;

/** Old samples are removed from the database; what was derived from them outlasts it. */
@Timeout(120)
class DroppedSamplesTest {
  private static final String TRACKER = "A-1";
  private static final long DAY_US = 86_400_000_000L;

  private final DatabaseSettings settings = SharedServer.empty();

  /** All that is derived. */
  private record All(List<Soak> soaks, List<List<StateChange>> timelines, int bins, String kept) {
    static All of(Database database) {
      try (SoakStore.Reader reader = database.soakStore().reader()) {
        List<Soak> soaks = reader.soaks(TRACKER, 0);
        return new All(
            soaks,
            soaks.stream().map(s -> reader.timeline(s.id())).toList(),
            reader.bins(TRACKER, 0, Long.MAX_VALUE).size(),
            kept(database));
      }
    }

    private static String kept(Database database) {
      new FigureDeriver(database.figures()).deriveOutdated();
      new CalibrationDeriver(database.calibrations(), database.calibrationReports())
          .deriveOutdated();
      List<UnitSoak> kept = database.figureTable().of(TRACKER);
      assertThat(kept).isNotEmpty();
      return kept.stream()
          .map(k -> k.soak().id() + k.figures())
          .toList()
          .toString()
          .replaceAll("\\[D@\\w+", "");
    }

    All withoutSamplesOfTheFirst() {
      List<Soak> marked =
          IntStream.range(0, soaks.size())
              .mapToObj(i -> i == 0 ? soaks.get(i).withoutSamples() : soaks.get(i))
              .toList();
      return new All(marked, timelines, bins, kept);
    }
  }

  private static List<Sample> samples(long afterUs, int count) {
    return IntStream.range(0, count).mapToObj(i -> at(i * 100_000L + afterUs)).toList();
  }

  private static Sample at(long afterUs) {
    Sample s = Samples.sample(TRACKER, (int) (afterUs / 100_000 % 1000));
    return new Sample(
        TRACKER,
        Samples.START_US + afterUs,
        s.temperatureC(),
        false,
        s.gxDps(),
        s.gyDps(),
        0.05f,
        0,
        0,
        1,
        -1,
        -1);
  }

  private static SoakWatch watch(Database database) {
    return new SoakWatch(database.soakStore(), Limits.DEFAULT, () -> Samples.START_US);
  }

  private Database open() {
    return Database.open(settings);
  }

  private All threeSoaks() {
    try (Database database = open()) {
      SoakWatch watch = watch(database);
      watch.accept(samples(0, 3000));
      watch.accept(samples(DAY_US, 2000));
      watch.accept(samples(2 * DAY_US, 2000));
      watch.finish();
      return All.of(database);
    }
  }

  private void delete(long beforeUs) throws Exception {
    try (Connection connection = SharedServer.connect(settings);
        Statement statement = connection.createStatement()) {
      statement.execute(
          "DELETE FROM sample WHERE time < '"
              + SqlTimes.time(Samples.START_US + beforeUs).toInstant()
              + "'");
    }
  }

  private void aLateLineChangesNothing(All before) {
    try (Database database = open()) {
      SoakWatch watch = watch(database);
      watch.restore();
      assertThat(watch.accept(List.of(at(200_050_000))).accepted()).isEqualTo(1);
      watch.tick();
      assertThat(All.of(database)).isEqualTo(before.withoutSamplesOfTheFirst());
      try (SoakStore.Reader reader = database.soakStore().reader()) {
        assertThat(reader.staleTrackers().isEmpty()).isTrue();
        long lateUs = Samples.START_US + 200_050_000;
        assertThat(reader.samples(TRACKER, lateUs, lateUs + 1).size()).isEqualTo(1);
      }
      watch.accept(samples(2 * DAY_US + 200_000_000, 100));
      watch.finish();
      assertThat(All.of(database).soaks().get(2).samples()).isEqualTo(2100);
    }
  }

  @Test
  void aSoakThatLostItsBeginningStaysAsItIs() throws Exception {
    All before = threeSoaks();
    delete(60_000_000);
    aLateLineChangesNothing(before);
  }

  @Test
  void aSoakThatLostAllItsSamplesStaysAsItIs() throws Exception {
    All before = threeSoaks();
    delete(DAY_US);
    aLateLineChangesNothing(before);
  }
}
