package soakbench.readiness.estimator;

import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.File;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import soakbench.drift.still.Stillness;
import soakbench.ingest.source.Recording;
import soakbench.live.SoakStore;
import soakbench.live.memory.MemoryStore;
import soakbench.live.watch.SoakWatch;
import soakbench.model.Bin;
import soakbench.model.Limits;
import soakbench.model.Sample;
import soakbench.model.Soak;

/** Runs the estimator over recordings and writes what it told, to be scored against their truth. */
final class RecordedTrial {
  private static final double WILD_C = 5;

  private final List<Map<String, Object>> told = new ArrayList<>();

  private RecordedTrial() {}

  /** The file to write, then the recordings. */
  public static void main(String[] args) throws IOException {
    RecordedTrial trial = new RecordedTrial();
    for (String file : Arrays.copyOfRange(args, 1, args.length)) {
      trial.recording(Path.of(file));
    }
    new ObjectMapper().writeValue(new File(args[0]), trial.told);
  }

  private void recording(Path file) throws IOException {
    MemoryStore store = MemoryStore.forgetful();
    SoakWatch watch = new SoakWatch(store, Limits.DEFAULT, () -> 0);
    List<Sample> all = new ArrayList<>();
    Recording.read(file, all::addAll);
    watch.accept(all);
    watch.finish();
    try (SoakStore.Unit unit = store.begin()) {
      for (Soak last : unit.lastSoaks()) {
        for (Soak soak : unit.soaks(last.tracker(), Long.MIN_VALUE)) {
          long from = Math.floorDiv(soak.startUs(), 1_000_000L);
          long to = Math.floorDiv(soak.endUs(), 1_000_000L) + 1;
          soak(soak.tracker(), unit.bins(soak.tracker(), from, to));
        }
      }
    }
  }

  private void soak(String tracker, List<Bin> bins) {
    Estimator estimator = new Estimator(Limits.DEFAULT, null);
    Stillness stillness = new Stillness();
    boolean ready = false;
    say(tracker, bins.get(0).firstUs(), "soaking");
    long toldUs = 0;
    for (int i = 0; i < bins.size(); i++) {
      Bin bin = bins.get(i);
      long gapUs = i > 0 ? bin.firstUs() - bins.get(i - 1).lastUs() : 0;
      if (ready && gapUs > 10_000_000L) {
        say(tracker, bins.get(i - 1).lastUs() + 10_000_000L, "soaking");
        ready = false;
      }
      Answer a = estimator.add(bin, stillness.accept(bin), new Doubts(wild(bins, i), false, 0));
      if (a.dwell().ready() != ready) {
        ready = a.dwell().ready();
        say(tracker, bin.endUs(), ready ? "ready" : "soaking");
      }
      if (a.expected() != null && bin.endUs() - toldUs >= 60_000_000L) {
        toldUs = bin.endUs();
        expect(tracker, bin, a);
      }
    }
  }

  private void say(String tracker, long timeUs, String state) {
    told.add(Map.of("tracker", tracker, "time", instant(timeUs), "state", state));
  }

  private void expect(String tracker, Bin bin, Answer a) {
    // A time that is not bounded is as good as ten hours.
    double since = a.tS() - a.expected().fromS();
    Map<String, String> at =
        Map.of(
            "expected", later(bin, Math.min(36_000, a.expected().expectedS()) - since),
            "earliest", later(bin, a.expected().earliestS() - since),
            "latest", later(bin, Math.min(36_000, a.expected().latestS()) - since));
    told.add(Map.of("tracker", tracker, "asof", instant(bin.endUs()), "ready_at", at));
  }

  private static String later(Bin bin, double seconds) {
    return instant(bin.endUs() + Math.round(seconds * 1e6));
  }

  private static String instant(long timeUs) {
    return Instant.EPOCH.plus(timeUs, ChronoUnit.MICROS).toString();
  }

  /** Off both its neighbours: a sensor not yet set, a line spoilt. */
  private static boolean wild(List<Bin> bins, int i) {
    Boolean before = i > 0 ? off(bins.get(i), bins.get(i - 1)) : null;
    Boolean after = i + 1 < bins.size() ? off(bins.get(i), bins.get(i + 1)) : null;
    boolean known = before != null || after != null;
    return known && !Boolean.FALSE.equals(before) && !Boolean.FALSE.equals(after);
  }

  private static Boolean off(Bin bin, Bin other) {
    boolean read = bin.temperatureC().count() > 0 && other.temperatureC().count() > 0;
    return read && Math.abs(other.second() - bin.second()) <= 10
        ? Math.abs(bin.temperatureC().mean() - other.temperatureC().mean()) > WILD_C
        : null;
  }
}
