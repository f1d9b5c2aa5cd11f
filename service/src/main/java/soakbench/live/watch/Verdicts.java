package soakbench.live.watch;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.ConcurrentSkipListMap;
import java.util.concurrent.CopyOnWriteArrayList;
import soakbench.live.Listener;
import soakbench.readiness.Readiness;

/** The newest verdict of every tracker with an open soak, and the listeners to new ones. */
final class Verdicts {
  private final Map<String, Readiness> newest = new ConcurrentSkipListMap<>();
  private final Set<String> beginning = ConcurrentHashMap.newKeySet();
  private final List<Listener> listeners = new CopyOnWriteArrayList<>();

  /** All of them, by tracker id. */
  List<Readiness> all() {
    return List.copyOf(newest.values());
  }

  Optional<Readiness> of(String tracker) {
    return Optional.ofNullable(newest.get(tracker));
  }

  void subscribe(Listener listener) {
    listeners.add(listener);
  }

  /** Whether a soak of the tracker begins that has no verdict yet. */
  boolean isBeginning(String tracker) {
    return beginning.contains(tracker);
  }

  /** Drops those of other trackers; never all, or a concurrent reader would find the rack empty. */
  void keepOnly(Set<String> trackers) {
    newest.keySet().retainAll(trackers);
    beginning.retainAll(trackers);
  }

  /** Takes these trackers' newest verdicts and passes those that are new to the listeners. */
  void publish(Iterable<TrackerWatch> watches) {
    List<Readiness> news = new ArrayList<>();
    for (TrackerWatch watch : watches) {
      Optional<Readiness> now = watch.newest();
      if (now.isEmpty() && watch.hears()) {
        beginning.add(watch.tracker());
      } else {
        beginning.remove(watch.tracker());
      }
      if (now.isEmpty()) {
        newest.remove(watch.tracker());
      } else if (now.get() != newest.put(watch.tracker(), now.get())) {
        news.add(now.get());
      }
    }
    if (!news.isEmpty()) {
      List<Readiness> list = List.copyOf(news);
      listeners.forEach(l -> l.judged(list));
    }
  }
}
