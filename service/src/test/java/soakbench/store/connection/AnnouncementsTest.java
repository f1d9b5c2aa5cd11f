package soakbench.store.connection;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.sql.Connection;
import java.sql.Statement;
import java.time.Duration;
import java.util.List;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import soakbench.live.SoakStore.Unit;
import soakbench.live.deriving.DerivationInput;
import soakbench.live.deriving.DerivedStore;
import soakbench.model.Limits;
import soakbench.model.Soak;
import soakbench.model.SoakTerms;
import soakbench.model.State;
import soakbench.model.StateChange;
import soakbench.model.Tracker;
import soakbench.readiness.Calibration;
import soakbench.store.Database;
import soakbench.store.SharedServer;
import soakbench.store.connection.Announcements.News;
import soakbench.store.server.DatabaseSettings;

@Timeout(180)
class AnnouncementsTest {
  private static final News EVERYTHING = new News(true, null);
  private final DatabaseSettings settings = SharedServer.empty();

  private static void judged(Database writer, List<String> trackers) {
    try (Unit unit = writer.soakStore().begin()) {
      for (String tracker : trackers) {
        String id = tracker + "@1";
        unit.writeSoak(new Soak(id, tracker, 0, 1_000_000, 2, null));
        unit.replaceTimeline(id, List.of(new StateChange(0, State.STARTING, true)));
      }
      unit.commit();
    }
  }

  private static News next(BlockingQueue<News> heard) throws InterruptedException {
    return heard.poll(60, TimeUnit.SECONDS);
  }

  @Test
  void whatOneProgramCommitsTheOthersHearAndItselfDoesNot() throws Exception {
    BlockingQueue<News> heard = new LinkedBlockingQueue<>();
    BlockingQueue<News> own = new LinkedBlockingQueue<>();
    try (Database writer = Database.prepared(settings);
        Database reader = Database.prepared(settings)) {
      writer.announcements().subscribe(own::add);
      reader.announcements().subscribe(heard::add);
      writer.openToWrite(step -> {});
      reader.openToRead(step -> {});
      assertThat(next(heard)).isEqualTo(EVERYTHING);
      assertThat(next(own)).isEqualTo(EVERYTHING);
      judged(writer, List.of("A-1"));
      assertThat(next(heard)).isEqualTo(new News(false, List.of("A-1")));
      writer.roster().put(Tracker.unknown("A-1"));
      assertThat(next(heard)).isEqualTo(new News(true, List.of("A-1")));
      assertThat(next(heard)).isEqualTo(new News(true, List.of()));
      // Too many to be named: the server takes 8000 bytes.
      judged(writer, IntStream.range(0, 500).mapToObj(i -> "T-" + "0".repeat(50) + i).toList());
      assertThat(next(heard)).isEqualTo(new News(false, null));
      assertThat(own).isEmpty();
    }
  }

  @Test
  void whatIsDerivedIsToldWhereOthersHoldItInMemoryAndIsAnother() throws Exception {
    BlockingQueue<News> heard = new LinkedBlockingQueue<>();
    try (Database writer = Database.open(settings);
        Database reader = Database.prepared(settings)) {
      judged(writer, List.of("A-3"));
      try (Unit unit = writer.soakStore().begin()) {
        unit.writeTerms("A-3@1", SoakTerms.of(Limits.DEFAULT));
        unit.commit();
      }
      reader.announcements().subscribe(heard::add);
      reader.openToRead(step -> {});
      assertThat(next(heard)).isEqualTo(EVERYTHING);
      DerivedStore<List<Calibration>> calibrations = writer.calibrations();
      DerivationInput input = calibrations.input("A-3@1").orElseThrow();
      calibrations.put(input, 1, List.of(), false);
      assertThat(next(heard)).as("the first").isEqualTo(new News(true, List.of()));
      calibrations.put(input, 2, List.of(), true);
      writer.roster().put(Tracker.unknown("A-3"));
      assertThat(next(heard)).as("the same again").isEqualTo(new News(true, List.of("A-3")));
    }
  }

  @Test
  void aLostConnectionIsMadeAgainAndThenEverythingMayBeNew() throws Exception {
    BlockingQueue<News> heard = new LinkedBlockingQueue<>();
    try (Database writer = Database.open(settings);
        Database reader = Database.prepared(settings);
        Connection connection = SharedServer.connect(settings);
        Statement statement = connection.createStatement()) {
      reader.announcements().subscribe(heard::add);
      reader.openToRead(step -> {});
      assertThat(next(heard)).isEqualTo(EVERYTHING);
      statement.execute(
          "SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE query LIKE 'LISTEN %'"
              + " AND datname = current_database()");
      assertThat(next(heard)).isEqualTo(EVERYTHING);
      await()
          .atMost(Duration.ofSeconds(60))
          .until(
              () -> {
                judged(writer, List.of("A-2"));
                return heard.contains(new News(false, List.of("A-2")));
              });
    }
  }
}
