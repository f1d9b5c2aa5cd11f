package soakbench.live;

import java.util.NavigableMap;
import java.util.TreeMap;
import soakbench.model.Bin;
import soakbench.model.Bin.Channel;
import soakbench.model.Soak.End;

/** Says where one tracker's soak ends and the next begins. Not thread-safe. */
final class SoakCutter {
  static final long SILENCE_ENDS_US = 600_000_000L;
  private static final long LATE_REBOOT_US = 180_000_000L;
  private static final double COOLER_C = 1;

  /**
   * Ends given by hand, by their second, and whether it had fallen silent before: the second after
   * one of them begins another soak. What else came within the second stays with the ended soak.
   */
  private final NavigableMap<Long, Boolean> takenOff = new TreeMap<>();

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

  /** The soak ended: how warm it was says nothing of the next. */
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

  /** Tells of an end that was given by hand. */
  void takenOffAt(long us, boolean silent) {
    takenOff.put(Math.floorDiv(us, 1_000_000L), silent);
  }

  /** Whether it had fallen silent before the next end by hand. */
  boolean silentWhenTakenOff() {
    return takenOff.ceilingEntry(second).getValue();
  }

  /** Why the open soak ends before this bin; null where the bin belongs to it. */
  End before(Bin bin, boolean rebooted) {
    if (takenOffBefore(bin.firstUs())) {
      return End.TAKEN_OFF;
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

  boolean takenOffBefore(long nextUs) {
    Long off = takenOff.ceilingKey(second);
    return off != null && off < Math.floorDiv(nextUs, 1_000_000L);
  }

  boolean silentBefore(long nextUs) {
    return nextUs - lastUs > SILENCE_ENDS_US;
  }

  private boolean cooler(Bin bin) {
    Channel now = bin.temperatureC();
    return now.count() > 0 && temperatureC - now.mean() > COOLER_C;
  }
}
