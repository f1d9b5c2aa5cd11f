package soakbench.store;

import static org.assertj.core.api.Assertions.assertThat;

import java.sql.Connection;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import soakbench.live.Samples;
import soakbench.live.watch.SoakWatch;
import soakbench.model.BinSpan;
import soakbench.model.Limits;
import soakbench.model.Sample;
import soakbench.model.Soak;
import soakbench.store.rows.BinSpans;
import soakbench.store.server.DatabaseSettings;

/** Rows for a chart from what is kept in memory are those that the database puts together. */
class KeptColumnsTest {
  private static final long FROM_S = Samples.START_S;
  private static final int[] POINTS = {2, 7, 100, 10_000};

  private Database database;
  private Connection connection;
  private SoakWatch watch;

  @BeforeEach
  void open() throws SQLException {
    DatabaseSettings settings = SharedServer.empty();
    database = Database.open(settings);
    connection = SharedServer.connect(settings);
    watch = new SoakWatch(database.soakStore(), Limits.DEFAULT, () -> Samples.START_US);
  }

  @AfterEach
  void close() throws SQLException {
    connection.close();
    database.close();
  }

  @Test
  void theyAreTheSameWhateverHappensToTheSoak() throws SQLException {
    List<Sample> all = new Samples.Maker().lines(300).at(26).lines(300).samples();
    watch.accept(between(all, 0, 200));
    sameRows();
    watch.accept(between(all, 200, 203));
    sameRows();
    watch.accept(between(all, 230, 400));
    sameRows();
    watch.accept(between(all, 203, 230));
    watch.settle();
    sameRows();
    watch.accept(between(all, 400, 600));
    watch.end(soak().id());
    sameRows();
  }

  @Test
  void soMuchIsKeptAndNoMore() throws SQLException {
    watch.accept(new Samples.Maker().lines(60).samples());
    watch.accept(new Samples.Maker().named("T-other").lines(60).samples());
    KeptColumns kept = new KeptColumns(80);
    for (Soak soak : database.archive().soaks(query(null))) {
      assertThat(kept.holds(soak)).isTrue();
      assertThat(kept.of(connection, soak, Long.MAX_VALUE).size()).isGreaterThan(50);
    }
    assertThat(kept.seconds()).isBetween(50, 80);
    assertThat(new KeptColumns(50).holds(soak())).isFalse();
  }

  private static List<Sample> between(List<Sample> all, int fromS, int toS) {
    long fromUs = (FROM_S + fromS) * 1_000_000;
    long toUs = (FROM_S + toS) * 1_000_000;
    return all.stream().filter(s -> s.timeUs() >= fromUs && s.timeUs() < toUs).toList();
  }

  private static SoakQuery query(String tracker) {
    return new SoakQuery(tracker, null, null, null, null, null, 10);
  }

  private Soak soak() {
    return database.archive().soaks(query(Samples.TRACKER)).get(0);
  }

  private void sameRows() throws SQLException {
    Soak soak = soak();
    for (int points : POINTS) {
      for (long[] part : new long[][] {{0, 1000}, {33, 207}, {150, 151}, {900, 999}}) {
        long from = FROM_S + part[0];
        long to = FROM_S + part[1];
        assertThat(text(database.archive().binSpans(soak, from, to, points)))
            .as("%d rows of %d to %d s", points, part[0], part[1])
            .isEqualTo(text(BinSpans.read(connection, soak.tracker(), from, to, points)));
      }
    }
  }

  /** Means are rounded otherwise by the database. */
  private static List<String> text(List<BinSpan> spans) {
    List<String> rows = new ArrayList<>();
    for (BinSpan s : spans) {
      rows.add(
          "%d-%d %d %d %s %s %s %s"
              .formatted(
                  s.fromSecond(),
                  s.endSecond(),
                  s.seconds(),
                  s.boot(),
                  text(s.temperatureC()),
                  text(s.gyroDps()[0]),
                  text(s.gyroDps()[2]) + text(s.accelG()[1]),
                  s.gyroSdDps()));
    }
    return rows;
  }

  private static String text(BinSpan.Extent extent) {
    return "%s %.6f %s".formatted(extent.low(), extent.mean() + 1e-9, extent.high());
  }
}
