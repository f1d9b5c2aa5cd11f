package soakbench.api.samples;

import java.util.HashMap;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import java.util.function.LongSupplier;
import java.util.function.Predicate;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.live.StoreException;

/**
 * Bounds how many new trackers uploads may create: each costs memory and a place on the board for
 * as long as it soaks. What is known already is never refused. Counted from the start of the
 * service or the day (UTC), whichever is later. Thread-safe.
 */
public final class NewTrackerQuota {
  private static final Logger LOG = LoggerFactory.getLogger(NewTrackerQuota.class);
  private static final long DAY_MS = TimeUnit.DAYS.toMillis(1);

  private final UploadLimits limits;
  private final KnownTrackers known;
  private final Predicate<String> listed;
  private final LongSupplier nowMs;
  private final Map<String, Integer> bySender = new HashMap<>();
  private long day = Long.MIN_VALUE;
  private int all;
  private boolean logged;

  /**
   * @param listed whether the roster lists an id; may block, and is called only where it would be
   *     refused otherwise
   * @param nowMs the computer's date, ms since 1970
   */
  public NewTrackerQuota(
      UploadLimits limits, KnownTrackers known, Predicate<String> listed, LongSupplier nowMs) {
    this.limits = limits;
    this.known = known;
    this.listed = listed;
    this.nowMs = nowMs;
  }

  /** For one request of this sender. Not thread-safe. */
  OneRequest request(String sender) {
    return new OneRequest(sender);
  }

  /** What one request brought. */
  final class OneRequest {
    private final String sender;
    private int brought;

    private OneRequest(String sender) {
      this.sender = sender;
    }

    /** Whether lines of this id are taken, as far as that is known without blocking. */
    boolean takesAtOnce(String id) {
      if (known.has(id)) {
        return true;
      }
      boolean taken = brought < limits.newPerRequest() && admit(sender, id) == null;
      brought += taken ? 1 : 0;
      return taken;
    }

    /**
     * Why lines of this id are not taken; null where they are.
     *
     * @throws StoreException where that is not known yet; its sender must not take it for refused
     */
    String refusal(String id) {
      // Before it is asked: meanwhile it may be read.
      boolean sure = known.isRead();
      if (known.has(id)) {
        return null;
      }
      String full =
          brought >= limits.newPerRequest()
              ? limits.newPerRequest() + " in one request"
              : admit(sender, id);
      if (full == null) {
        brought++;
        return null;
      }
      if (listed.test(id)) {
        known.add(id);
        return null;
      }
      if (!sure) {
        throw new StoreException(
            "which trackers are known could not be read yet; it is tried again", null, true);
      }
      return ("%s was never heard, and no more than %s are taken. If it is a tracker, put it into"
              + " the roster (PUT /api/trackers/%s) and send again; docs/operations.md says how to"
              + " allow more.")
          .formatted(id, full, id);
    }
  }

  /** Admits a new id; else returns which quota is used up. */
  private synchronized String admit(String sender, String id) {
    long today = Math.floorDiv(nowMs.getAsLong(), DAY_MS);
    if (today != day) {
      day = today;
      all = 0;
      logged = false;
      bySender.clear();
    }
    String full = null;
    if (all >= limits.newPerDay()) {
      full = limits.newPerDay() + " new trackers in a day, of all senders together,";
    } else if (bySender.getOrDefault(sender, 0) >= limits.newPerSender()) {
      full = limits.newPerSender() + " new trackers of one sender in a day";
    } else {
      all++;
      bySender.merge(sender, 1, Integer::sum);
      known.add(id);
    }
    if (full != null && !logged) {
      logged = true;
      LOG.warn("{} sends more new tracker ids; no more than {} are taken", sender, full);
    }
    return full;
  }
}
