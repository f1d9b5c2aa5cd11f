package soakbench.store.room;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.nio.file.Path;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import soakbench.model.Estimate;
import soakbench.store.Database;
import soakbench.store.SharedServer;

/** The room of the database is told before it is gone. */
class RoomWatchTest {
  private static final long HOUR_NS = TimeUnit.HOURS.toNanos(1);
  private static final long GB = 1_000_000_000L;

  @TempDir private Path folder;

  /** So many bytes an hour, in hours, from 0 on. */
  private static Estimate perDay(long... bytes) {
    Growth growth = new Growth();
    for (int hour = 0; hour < bytes.length; hour++) {
      growth.take(hour * HOUR_NS, bytes[hour]);
      growth.take(hour * HOUR_NS + HOUR_NS / 2, 77 * GB);
    }
    return growth.bytesPerDay();
  }

  @Test
  void growthIsTheMeanOfTheHoursWithAnIntervalByStudentsT() {
    assertThat(perDay(0, 100, 200).reason()).contains("for 2 whole hours yet; 3 are needed");
    Estimate even = perDay(0, 100, 200, 300);
    assertThat(even.value()).isEqualTo(2400);
    assertThat(even.high() - even.low()).isEqualTo(0, within(1e-9));
    // Differences 50, 100, 150: mean 100, sd 50, se 50/sqrt(3), t(2, 0.975) = 4.303 (printed
    // tables).
    Estimate uneven = perDay(0, 50, 150, 300);
    assertThat(uneven.value()).isEqualTo(2400);
    assertThat(uneven.se()).isEqualTo(24 * 50 / Math.sqrt(3), within(1e-9));
    assertThat(uneven.high()).isEqualTo(2400 + 4.303 * 24 * 50 / Math.sqrt(3), within(0.5));
  }

  @Test
  void onlyTheLastWeekCounts() {
    long[] bytes = new long[400];
    for (int hour = 0; hour < bytes.length; hour++) {
      bytes[hour] = hour < 231 ? hour * GB : 230 * GB + (hour - 231) * 100;
    }
    assertThat(perDay(bytes).value()).isEqualTo(2400, within(30.0));
  }

  @Test
  void daysLeftHaveAnOpenEndWhereItMayNotGrowAndNoneWhereItDoesNot() {
    Estimate days = RoomWatch.daysLeft(10 * GB, Estimate.of(GB, GB / 4.0, 2));
    assertThat(days.value()).isEqualTo(10);
    assertThat(days.low()).isEqualTo(10 / 1.5, within(1e-9));
    assertThat(days.high()).isEqualTo(20, within(1e-9));
    assertThat(RoomWatch.daysLeft(GB, Estimate.of(GB, GB, 2)).high()).isInfinite();
    assertThat(RoomWatch.daysLeft(GB, Estimate.of(-5, 1, 2)).reason()).contains("does not grow");
    assertThat(RoomWatch.daysLeft(GB, perDay(0, 1)).reason()).contains("how fast it grows");
  }

  @Test
  void itIsAsNearAsTheFewerOfBytesAndDays() {
    RoomLimits limits = new RoomLimits(5 * GB, 14, null);
    assertThat(room(10 * GB, null).nearnessPercent(limits)).isEqualTo(50);
    assertThat(room(GB, null).nearnessPercent(limits)).isEqualTo(500);
    Room soon = room(10 * GB, Estimate.of(7, 1, 2));
    assertThat(soon.nearnessPercent(limits)).isEqualTo(200);
    assertThat(soon.soonerByDays(limits)).isTrue();
    assertThat(soon.words())
        .isEqualTo(
            "The database's room is low: 10.0 GB are left, which last 7 days (5 or more) at the"
                + " rate of now.");
    assertThat(room(null, null).nearnessPercent(limits)).isZero();
  }

  private static Room room(Long free, Estimate days) {
    Estimate unknown = Estimate.unknown("a test");
    return new Room(1, free, null, unknown, days == null ? unknown : days, null);
  }

  @Test
  void ofAGivenServerItsSizeIsKnownAndTheRestWhereSomebodySaidIt() {
    try (Database database = Database.open(SharedServer.empty())) {
      RoomWatch watch = database.room();
      assertThat(watch.newest()).isEmpty();
      Room found = watch.look(0);
      assertThat(found.databaseBytes()).isGreaterThan(1_000_000);
      assertThat(found.freeBytes()).isNull();
      assertThat(found.note()).contains("--db-room-gb");
      watch.limits(new RoomLimits(5 * GB, 14, 6 * GB));
      Room said = watch.look(1);
      assertThat(said.freeBytes()).isEqualTo(6 * GB - said.databaseBytes());
      assertThat(watch.newest()).contains(said);
    }
  }
}
