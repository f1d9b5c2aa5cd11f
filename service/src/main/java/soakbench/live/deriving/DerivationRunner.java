package soakbench.live.deriving;

import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Consumer;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.live.EventClock;
import soakbench.live.StoreException;
import soakbench.live.deriving.DerivationStatus.State;

/**
 * Derives what is out of date soak by soak: one that fails is logged once, retried with a growing
 * pause, and never blocks the others. Thread-safe.
 */
public final class DerivationRunner {
  private static final Logger LOG = LoggerFactory.getLogger(DerivationRunner.class);

  /**
   * A soak pauses for so many rounds after its first failure, and twice as many after each more.
   */
  private static final long REST_ROUNDS = 15;

  private static final long LONGEST_REST_ROUNDS = 1_800;

  private final String what;
  private final EventClock clock;
  private final Map<String, Failing> failing = new HashMap<>();
  private DerivationStatus waiting;
  private long round;

  private record Failing(String reason, long sinceUs, int times, long restsUntil) {}

  /**
   * @param what is derived, for the log
   * @param clock dates what fails
   */
  DerivationRunner(String what, EventClock clock) {
    this.what = what;
    this.clock = clock;
  }

  /**
   * One round.
   *
   * @param most so many are given at most; where fewer are, a soak that failed and is not among
   *     them, being gone or derived elsewhere, is dropped
   * @param outdated gives the soaks that are out of date, without those passed to it
   * @param one derives one of them
   * @return how many were tried
   */
  int derive(int most, Function<Set<String>, List<String>> outdated, Consumer<String> one) {
    int tried = 0;
    try {
      Set<String> resting = resting();
      List<String> all = outdated.apply(resting);
      if (all.size() < most) {
        keepOnly(resting, all);
      }
      for (String soak : all) {
        derive(soak, one);
        tried++;
      }
      resumes();
    } catch (RuntimeException e) {
      waits(e);
    }
    return tried;
  }

  private void derive(String soak, Consumer<String> one) {
    try {
      one.accept(soak);
      succeeded(soak);
    } catch (StoreException e) {
      if (e.transientFault()) {
        throw e;
      }
      failed(soak, e);
    } catch (RuntimeException e) {
      failed(soak, e);
    }
  }

  /** The status. */
  public synchronized DerivationStatus status() {
    if (waiting != null) {
      return waiting;
    }
    return failing.entrySet().stream()
        .min(Comparator.comparingLong(e -> e.getValue().sinceUs))
        .map(
            oldest ->
                new DerivationStatus(
                    State.FAILING,
                    failing.size(),
                    oldest.getValue().sinceUs,
                    "soak " + oldest.getKey() + ": " + oldest.getValue().reason))
        .orElse(DerivationStatus.OK);
  }

  /** Why a soak has none, or old ones; empty where nothing failed. */
  public synchronized Optional<String> failure(String soak) {
    return Optional.ofNullable(failing.get(soak)).map(Failing::reason);
  }

  /** Why some soak of a tracker has none, or old ones; empty where nothing failed. */
  public synchronized Optional<String> failureOf(String tracker) {
    return failing.entrySet().stream()
        .filter(e -> e.getKey().startsWith(tracker + "@"))
        .map(e -> "soak " + e.getKey() + ": " + e.getValue().reason)
        .sorted()
        .findFirst();
  }

  private synchronized Set<String> resting() {
    round++;
    return failing.entrySet().stream()
        .filter(e -> e.getValue().restsUntil > round)
        .map(Map.Entry::getKey)
        .collect(Collectors.toSet());
  }

  private synchronized void keepOnly(Set<String> resting, List<String> outdated) {
    failing.keySet().removeIf(soak -> !resting.contains(soak) && !outdated.contains(soak));
  }

  /** A soak is derived: its failure is no longer reported. */
  public synchronized void succeeded(String soak) {
    if (failing.remove(soak) != null) {
      LOG.info("soak {}: {} derived at last", soak, what);
    }
  }

  /** Keeps a soak among those that fail until it is derived. */
  public synchronized void failed(String soak, RuntimeException mistake) {
    Failing before = failing.get(soak);
    String reason = "not derived, by a mistake of the program or a row that is damaged: " + mistake;
    int times = before == null ? 1 : before.times + 1;
    long rest = Math.min(LONGEST_REST_ROUNDS, REST_ROUNDS << Math.min(times - 1, 10));
    long sinceUs = before == null ? clock.nowUs() : before.sinceUs;
    failing.put(soak, new Failing(reason, sinceUs, times, round + rest));
    if (before == null || !before.reason.equals(reason)) {
      LOG.warn("soak {}: {} fail, tried again later; the others go on", soak, what, mistake);
    }
  }

  private synchronized void resumes() {
    if (waiting != null) {
      waiting = null;
      LOG.info("{}: derived again", what);
    }
  }

  private synchronized void waits(RuntimeException why) {
    String reason = why instanceof StoreException ? why.getMessage() : why.toString();
    if (waiting == null || !waiting.reason().equals(reason)) {
      LOG.warn("{} wait: {}", what, reason, why instanceof StoreException ? null : why);
    }
    long sinceUs = waiting == null ? clock.nowUs() : waiting.sinceUs();
    waiting = new DerivationStatus(State.WAITING, 0, sinceUs, reason);
  }
}
