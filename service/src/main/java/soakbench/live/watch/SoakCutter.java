package soakbench.live.watch;

import java.util.Map;
import java.util.NavigableMap;
import java.util.TreeMap;
import soakbench.model.Bin;
import soakbench.model.Bin.Channel;
import soakbench.model.Soak.End;

/** Decides where one tracker's soak ends and the next begins. Not thread-safe. */
final class SoakCutter {
  static final long SILENCE_ENDS_US = 600_000_000L;
  private static final long LATE_REBOOT_US = 180_000_000L;
  private static final double COOLER_C = 1;

  /**
   * An end that the samples don't show.
   *
   * @param silent whether the soak had fallen silent before
   */
  private record Given(End why, boolean silent) {}

  /**
   * Ends that were given, by their second: the second after one of them begins another soak. What
   * else came within the second stays with the ended soak.
   */
  private final NavigableMap<Long, Given> given = new TreeMap<>();

  private long second = Long.MIN_VALUE;
  private long lastUs = Long.MIN_VALUE;
  private double temperatureC = Double.NaN;

  /** Takes a bin of the open soak. */
  void heard(Bin bin) {
    second = bin.second();
    lastUs = bin.lastUs();
    if (bin.temperatureC().count() > 0) {
      temperatureC = bin.temperatureC().mean();
    }
  }

  /**
   * Goes on with an open soak.
   *
   * @param last its last bin
   * @param heardC its newest temperature; NaN where none was heard
   */
  void resumed(Bin last, double heardC) {
    heard(last);
    temperatureC = heardC;
  }

  /** The newest temperature of the open soak, degC; NaN where none was heard. */
  double temperatureC() {
    return temperatureC;
  }

  /** The soak ended: its temperature does not count for the next. */
  void ended() {
    temperatureC = Double.NaN;
  }

  /** The second of the last bin; {@link Long#MIN_VALUE} before the first. */
  long second() {
    return second;
  }

  /** When its last sample was; {@link Long#MIN_VALUE} before the first. */
  long lastUs() {
    return lastUs;
  }

  /** Takes an end that the samples don't show. */
  void endedAt(long us, End why, boolean silent) {
    given.put(Math.floorDiv(us, 1_000_000L), new Given(why, silent));
  }

  /** Whether it had fallen silent before the next given end; false where none is given. */
  boolean silentWhenEnded() {
    Map.Entry<Long, Given> next = given.ceilingEntry(second);
    return next != null && next.getValue().silent();
  }

  /** Why the open soak ends before this bin; null where the bin belongs to it. */
  End before(Bin bin, boolean rebooted) {
    End givenEnd = givenBefore(bin.firstUs());
    if (givenEnd != null) {
      return givenEnd;
    }
    if (silentBefore(bin.firstUs())) {
      return End.SILENCE;
    }
    long gapUs = bin.firstUs() - lastUs;
    if (rebooted && gapUs > LATE_REBOOT_US) {
      return End.LATE_REBOOT;
    }
    return rebooted && cooler(bin) ? End.COOLER_REBOOT : null;
  }

  /** The given end that comes before this time; null where none does. */
  End givenBefore(long nextUs) {
    Map.Entry<Long, Given> next = given.ceilingEntry(second);
    boolean before = next != null && next.getKey() < Math.floorDiv(nextUs, 1_000_000L);
    return before ? next.getValue().why() : null;
  }

  boolean silentBefore(long nextUs) {
    return nextUs - lastUs > SILENCE_ENDS_US;
  }

  private boolean cooler(Bin bin) {
    Channel now = bin.temperatureC();
    return now.count() > 0 && temperatureC - now.mean() > COOLER_C;
  }
}
