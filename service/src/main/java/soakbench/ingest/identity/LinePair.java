package soakbench.ingest.identity;

import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.Objects;
import soakbench.lines.Reading;

/** Compares two lines of one tracker. */
final class LinePair {
  private static final long FELL_MS = 2000;
  private static final long WRAP_MS = 1L << 32;

  private LinePair() {}

  /** Whether they say the same in everything but when they arrived. */
  static boolean areSame(Reading a, Reading b) {
    return a != null
        && a.timeUs() == b.timeUs()
        && a.tMs() == b.tMs()
        && a.seq() == b.seq()
        && Objects.equals(a.boot(), b.boot())
        && Objects.equals(a.id(), b.id())
        && Objects.equals(a.temperatureHeld(), b.temperatureHeld())
        && a.channels().equals(b.channels());
  }

  /** Whether the tracker counted this line before that one, without a new boot. */
  static boolean isBefore(Reading line, Reading that) {
    if (that == null || isOtherBoot(line, that)) {
      return false;
    }
    boolean earlier = line.tMs() >= 0 && that.tMs() >= 0 && line.tMs() < that.tMs();
    return earlier || line.seq() >= 0 && that.seq() >= 0 && line.seq() < that.seq();
  }

  /** Whether the tracker has booted between the two. */
  static boolean isOtherBoot(Reading line, Reading before) {
    if (before == null) {
      return false;
    }
    boolean otherId =
        before.boot() != null && line.boot() != null && !before.boot().equals(line.boot());
    long fellMs = line.tMs() < 0 || before.tMs() < 0 ? 0 : before.tMs() - line.tMs();
    return otherId || fellMs > FELL_MS && fellMs < WRAP_MS / 2;
  }

  static String text(long timeUs) {
    return Instant.EPOCH.plus(timeUs, ChronoUnit.MICROS).toString();
  }
}
