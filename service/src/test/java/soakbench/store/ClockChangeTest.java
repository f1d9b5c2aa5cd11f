package soakbench.store;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import java.util.List;
import java.util.TimeZone;
import java.util.stream.IntStream;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import soakbench.live.SoakStore.Reader;
import soakbench.live.watch.SoakWatch;
import soakbench.model.Bin;
import soakbench.model.Sample;
import soakbench.model.Soak;
import soakbench.model.StateChange;
import soakbench.store.server.DatabaseSettings;

/** Soaks over midnight and over a change of the workshop's clocks, in its zone and in none. */
class ClockChangeTest {
  private static final int HALF_S = 60;

  private record Stored(List<Soak> soaks, List<String> bins, List<StateChange> timeline) {}

  private static List<Sample> samples(Instant change) {
    long startUs = (change.getEpochSecond() - HALF_S) * 1_000_000L;
    return IntStream.range(0, 4 * HALF_S)
        .mapToObj(
            i -> {
              float temperatureC = (float) (31 - 8 * Math.exp(-i / 800.0));
              long timeUs = startUs + i * 500_000L;
              return new Sample("Z-1", timeUs, temperatureC, false, 0.3f, 0, 0, 0, 0, 1, i, -1);
            })
        .toList();
  }

  /** Half of it before a restart, which falls on the change, and half of it after. */
  private static Stored stored(String zone, List<Sample> samples) {
    TimeZone home = TimeZone.getDefault();
    TimeZone.setDefault(TimeZone.getTimeZone(zone));
    try {
      DatabaseSettings settings = SharedServer.empty();
      take(settings, samples.subList(0, samples.size() / 2), false);
      return take(settings, samples.subList(samples.size() / 2, samples.size()), true);
    } finally {
      TimeZone.setDefault(home);
    }
  }

  private static Stored take(DatabaseSettings settings, List<Sample> samples, boolean last) {
    try (Database database = Database.open(settings)) {
      SoakWatch watch = new SoakWatch(database.soakStore(), null, () -> 0);
      watch.restore();
      watch.accept(samples);
      if (last) {
        watch.finish();
      }
      try (Reader reader = database.soakStore().reader()) {
        List<Soak> soaks = reader.soaks("Z-1", Long.MIN_VALUE);
        return new Stored(
            soaks,
            reader.bins(soaks.get(0)).stream().map(ClockChangeTest::words).toList(),
            reader.timeline(soaks.get(soaks.size() - 1).id()));
      }
    }
  }

  private static String words(Bin bin) {
    return String.join(
        " ", "" + bin.second(), "" + bin.firstUs(), "" + bin.lastUs(), "" + bin.temperatureC());
  }

  /** Midnight; the hour that is left out in spring; the one that comes twice in autumn. */
  @ParameterizedTest
  @CsvSource({"2026-03-01T23:00:00Z", "2026-03-29T01:00:00Z", "2026-10-25T01:00:00Z"})
  void aSoakIsOneWithEachOfItsSecondsWhateverTheClockOnTheWallDoes(Instant change) {
    List<Sample> samples = samples(change);
    Stored there = stored("Europe/Vienna", samples);
    assertThat(there).isEqualTo(stored("UTC", samples));
    assertThat(there.soaks()).hasSize(1);
    assertThat(there.soaks().get(0).samples()).isEqualTo(samples.size());
    long first = samples.get(0).second();
    assertThat(there.bins())
        .extracting(bin -> Long.parseLong(bin.split(" ")[0]))
        .isEqualTo(IntStream.range(0, 2 * HALF_S).mapToObj(i -> first + i).toList());
    assertThat(there.timeline()).isNotEmpty().doesNotHaveDuplicates();
  }
}
