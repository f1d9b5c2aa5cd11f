package soakbench.live.alarm;

import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.function.LongUnaryOperator;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.live.alarm.AlarmListener.Change;
import soakbench.model.Alarm;
import soakbench.model.AlarmCause;
import soakbench.model.AlarmCause.About;
import soakbench.model.AlarmCause.Kind;
import soakbench.model.AlarmCause.Severity;

/**
 * All alarms, in memory, so that they work while the database does not. One alarm at a time for
 * each kind and tracker, or rack. It ends when its cause has been gone for {@link #GONE_FOR}, so
 * that a value that oscillates about a limit makes one alarm. Ended ones stay listed for {@link
 * #LISTED_FOR}. Thread-safe; has no clock of its own: spans are counted by the times that it is
 * given, which are the service's, and its events are dated by the clock of the data.
 */
public final class AlarmRegistry {
  private static final Logger LOG = LoggerFactory.getLogger(AlarmRegistry.class);

  /** For so long its cause must be gone before an alarm ends. */
  public static final Duration GONE_FOR = Duration.ofSeconds(30);

  /** For so long an ended alarm is listed. */
  public static final Duration LISTED_FOR = Duration.ofHours(12);

  /** A severe one that nobody has acknowledged is repeated this often. */
  public static final Duration REMIND_EVERY = Duration.ofMinutes(5);

  /** So many ended ones are listed at most, the oldest forgotten first. */
  static final int MOST_ENDED = 500;

  private static final DateTimeFormatter ID_TIME =
      DateTimeFormatter.ofPattern("yyyyMMdd'T'HHmmssSSS'Z'").withZone(ZoneOffset.UTC);

  private record Key(Kind kind, About about) {
    static Key of(AlarmCause cause) {
      return new Key(cause.kind(), cause.about());
    }

    static Key of(Kind kind, String tracker) {
      return new Key(kind, new About(tracker, null));
    }
  }

  /** A moment by the service's clock and by that of the data. */
  private record Moment(long nowUs, long dataUs) {}

  private record Ended(Alarm alarm, long atUs) {}

  private final Map<Key, Alarm> open = new LinkedHashMap<>();
  private final Map<Key, Moment> goneSince = new HashMap<>();
  private final Map<Key, Long> reportedUs = new HashMap<>();
  private final List<Ended> ended = new ArrayList<>();
  private final List<AlarmListener> listeners = new CopyOnWriteArrayList<>();
  private final LongUnaryOperator dates;

  /** For data that have the service's time. */
  public AlarmRegistry() {
    this(nowUs -> nowUs);
  }

  /**
   * @param dates maps the service's time to the data's; both microseconds since 1970
   */
  public AlarmRegistry(LongUnaryOperator dates) {
    this.dates = dates;
  }

  public void subscribe(AlarmListener listener) {
    listeners.add(listener);
  }

  /** There is a cause for an alarm: raises one, or keeps or escalates the one that is open. */
  public synchronized void report(AlarmCause cause, long nowUs) {
    Key key = Key.of(cause);
    Alarm before = open.get(key);
    goneSince.remove(key);
    if (before == null) {
      put(key, raised(cause, dates.applyAsLong(nowUs)), Change.RAISED, nowUs);
    } else if (cause.severity().compareTo(before.cause().severity()) > 0) {
      put(key, before.worse(cause), Change.WORSE, nowUs);
    }
  }

  /** There is no cause for such an alarm, or no longer. */
  public synchronized void gone(Kind kind, String tracker, long nowUs) {
    gone(Key.of(kind, tracker), nowUs);
  }

  /** The same of an alarm about a rack. */
  public synchronized void goneFromRack(Kind kind, String rack, long nowUs) {
    gone(new Key(kind, new About(null, rack)), nowUs);
  }

  private void gone(Key key, long nowUs) {
    if (open.containsKey(key)) {
      goneSince.putIfAbsent(key, moment(nowUs));
    }
  }

  /** Another alarm covers the same from now on: this one ends at once. */
  public synchronized void fold(Kind kind, String tracker, long nowUs) {
    Key key = Key.of(kind, tracker);
    if (open.containsKey(key)) {
      end(key, moment(nowUs));
    }
  }

  /** Only these trackers may still have a cause for an alarm. */
  public synchronized void goneButFor(Collection<String> trackers, long nowUs) {
    for (Key key : open.keySet()) {
      String tracker = key.about().tracker();
      if (tracker != null && !trackers.contains(tracker)) {
        gone(key, nowUs);
      }
    }
  }

  /** The periodic check: ends, repeats and drops alarms. Called about once a second. */
  public synchronized void pass(long nowUs) {
    for (Key key : List.copyOf(open.keySet())) {
      Moment gone = goneSince.get(key);
      if (gone != null && nowUs - gone.nowUs() >= us(GONE_FOR)) {
        end(key, gone);
      } else if (gone == null) {
        remind(key, nowUs);
      }
    }
    ended.removeIf(e -> nowUs - e.atUs() > us(LISTED_FOR));
  }

  private void remind(Key key, long nowUs) {
    Alarm alarm = open.get(key);
    boolean due = nowUs - reportedUs.get(key) >= us(REMIND_EVERY);
    if (due && alarm.cause().severity() == Severity.SEVERE && alarm.unseen()) {
      reportedUs.put(key, nowUs);
      notifyListeners(Change.REMINDED, alarm);
    }
  }

  private Moment moment(long nowUs) {
    return new Moment(nowUs, dates.applyAsLong(nowUs));
  }

  private void end(Key key, Moment at) {
    Alarm over = open.remove(key).over(at.dataUs());
    goneSince.remove(key);
    reportedUs.remove(key);
    ended.add(new Ended(over, at.nowUs()));
    if (ended.size() > MOST_ENDED) {
      ended.remove(0);
    }
    notifyListeners(Change.ENDED, over);
  }

  /**
   * Notes that somebody has seen it; the first time counts.
   *
   * @param by who; null where it is not known
   * @return the alarm as it is now; empty where no such alarm is listed
   */
  public synchronized Optional<Alarm> acknowledge(String id, String by, long nowUs) {
    Alarm.Seen seen = new Alarm.Seen(dates.applyAsLong(nowUs), by);
    for (Map.Entry<Key, Alarm> entry : open.entrySet()) {
      if (entry.getValue().id().equals(id)) {
        entry.setValue(acknowledged(entry.getValue(), seen));
        return Optional.of(entry.getValue());
      }
    }
    for (int i = 0; i < ended.size(); i++) {
      Ended e = ended.get(i);
      if (e.alarm().id().equals(id)) {
        ended.set(i, new Ended(acknowledged(e.alarm(), seen), e.atUs()));
        return Optional.of(ended.get(i).alarm());
      }
    }
    return Optional.empty();
  }

  private Alarm acknowledged(Alarm a, Alarm.Seen seen) {
    if (!a.unseen()) {
      return a;
    }
    Alarm acknowledged = a.seenBy(seen);
    notifyListeners(Change.ACKNOWLEDGED, acknowledged);
    return acknowledged;
  }

  /** Open alarms, the oldest first, then ended ones, the newest end first. */
  public synchronized List<Alarm> all() {
    List<Alarm> all = new ArrayList<>(open.values());
    ended.stream()
        .sorted(Comparator.comparingLong(Ended::atUs).reversed())
        .forEach(e -> all.add(e.alarm()));
    return List.copyOf(all);
  }

  private void put(Key key, Alarm alarm, Change change, long nowUs) {
    open.put(key, alarm);
    reportedUs.put(key, nowUs);
    notifyListeners(change, alarm);
  }

  private void notifyListeners(Change change, Alarm alarm) {
    for (AlarmListener listener : listeners) {
      try {
        listener.changed(change, alarm);
      } catch (RuntimeException e) {
        LOG.error("a mistake of the program while an alarm was told; the others are told", e);
      }
    }
  }

  private static Alarm raised(AlarmCause c, long sinceUs) {
    String time = ID_TIME.format(Instant.ofEpochMilli(Math.floorDiv(sinceUs, 1000L)));
    return new Alarm(c.kind().word() + subject(c.about()) + "@" + time, c, sinceUs, null, null);
  }

  /** A rack's name may hold what can't stand in an address. */
  private static String subject(About about) {
    if (about.tracker() != null) {
      return ":" + about.tracker();
    }
    return about.rack() == null ? "" : ":" + about.rack().replaceAll("[^A-Za-z0-9._-]", "-");
  }

  private static long us(Duration duration) {
    return duration.toNanos() / 1000;
  }
}
