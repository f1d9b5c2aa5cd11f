package soakbench.live.watch;

import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.Predicate;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.live.SoakStore;
import soakbench.live.StoreException;
import soakbench.model.Bin;
import soakbench.model.Soak;

/**
 * Follows what another program stores and judges it in memory: the soaks as a restart would restore
 * them, then second after second as their bins come. Silence is detected by this program's own
 * clock. Not thread-safe.
 */
final class StoreFollower {
  private static final Logger LOG = LoggerFactory.getLogger(StoreFollower.class);

  /** What a writer derived again shows here after this long, where nobody announces it. */
  private static final long ANEW_EVERY_US = 300_000_000L;

  private static final long NEVER = Long.MAX_VALUE / 2_000_000L;

  private record Followed(TrackerWatch watch, Soak soak, long readUs) {}

  private final SoakContext context;
  private final Map<String, Followed> byTracker = new HashMap<>();

  /** When soaks could not be read, by id. */
  private final Map<String, Long> unreadable = new HashMap<>();

  StoreFollower(SoakContext context) {
    this.context = context;
  }

  /**
   * Reads what is new.
   *
   * @param again of which trackers something was judged again
   * @return the watches of which something new may be known
   */
  List<TrackerWatch> poll(SoakStore.Unit unit, long nowUs, Predicate<String> again) {
    Set<TrackerWatch> touched = new LinkedHashSet<>();
    for (Soak soak : unit.lastSoaks()) {
      boolean anew = again.test(soak.tracker());
      Followed known = anew ? null : byTracker.get(soak.tracker());
      if (anew || isDue(known, soak, nowUs)) {
        Followed now = read(unit, known, soak, nowUs);
        now.watch().heardAt(nowUs);
        byTracker.put(soak.tracker(), now);
        touched.add(now.watch());
      }
    }
    for (Followed each : byTracker.values()) {
      PendingWrites passed = new PendingWrites();
      each.watch().tick(nowUs, true, passed);
      if (!passed.nothing()) {
        touched.add(each.watch());
      }
    }
    return List.copyOf(touched);
  }

  private boolean isDue(Followed known, Soak soak, long nowUs) {
    Long unreadUs = unreadable.get(soak.id());
    return unreadUs == null
        ? known == null || !known.soak().equals(soak)
        : nowUs - unreadUs >= ANEW_EVERY_US;
  }

  /** One whose stored soak can't be read must not keep the others from being judged. */
  private Followed read(SoakStore.Unit unit, Followed known, Soak soak, long nowUs) {
    try {
      Followed now = goesOn(known, soak, nowUs) ? more(unit, known, soak) : anew(unit, soak, nowUs);
      unreadable.remove(soak.id());
      return now;
    } catch (StoreException away) {
      throw away;
    } catch (RuntimeException e) {
      if (unreadable.put(soak.id(), nowUs) == null) {
        LOG.error(
            "{}: its soak {} can't be read, which is tried again every five minutes",
            soak.tracker(),
            soak.id(),
            e);
      }
      return new Followed(new TrackerWatch(soak.tracker(), context), soak, nowUs);
    }
  }

  Set<String> trackers() {
    return byTracker.keySet();
  }

  private static boolean goesOn(Followed known, Soak soak, long nowUs) {
    return known != null
        && soak.open()
        && known.soak().open()
        && known.soak().id().equals(soak.id())
        && known.watch().run().filter(run -> run.id().equals(soak.id())).isPresent()
        && nowUs - known.readUs() < ANEW_EVERY_US;
  }

  private static Followed more(SoakStore.Unit unit, Followed known, Soak soak) {
    TrackerWatch watch = known.watch();
    for (Bin bin : unit.bins(soak.tracker(), watch.closedSecond() + 1, NEVER)) {
      watch.replay(bin, 0, new PendingWrites());
    }
    return new Followed(watch, soak, known.readUs());
  }

  private Followed anew(SoakStore.Unit unit, Soak soak, long nowUs) {
    TrackerWatch watch = new Restoration(unit, context).closed(soak);
    return new Followed(watch, soak, nowUs);
  }
}
