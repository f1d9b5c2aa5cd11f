package soakbench.live.arrival;

import java.util.Optional;
import soakbench.drift.calibration.HandlingDetector;
import soakbench.drift.calibration.HandlingProgress;
import soakbench.lines.Reading;
import soakbench.live.watch.OpenBin;
import soakbench.live.watch.RebootDetector;
import soakbench.model.Bin;
import soakbench.model.Sample;

/**
 * Follows one tracker in somebody's hand by what arrives of it: a second counts as soon as the next
 * one begins, where what is stored waits for samples that come late. What it says is for who holds
 * the tracker; calibrations are found in stored seconds. Not thread-safe.
 */
final class HandFollower {
  /** After so long without a reading nothing is known of how it lay. */
  private static final long LONGEST_GAP_S = 180;

  private HandlingDetector detector = new HandlingDetector();
  private final RebootDetector reboots = new RebootDetector();
  private OpenBin open;
  private int boot;
  private long second;

  /**
   * Takes a reading.
   *
   * @param timeUs its own time or when it arrived, microseconds since 1970
   */
  void take(String tracker, Reading line, long timeUs) {
    if (!line.hasRates()) {
      return;
    }
    long now = Math.floorDiv(timeUs, 1_000_000L);
    if (open == null || now != second) {
      begin(tracker, now);
    }
    boolean held = Boolean.TRUE.equals(line.temperatureHeld());
    Sample sample = line.sample(tracker, timeUs, line.temperatureC(), held);
    boot += reboots.rebooted(sample) ? 1 : 0;
    open.add(sample);
  }

  private void begin(String tracker, long now) {
    if (open != null) {
      Bin closed = open.close(boot);
      if (now > second && now - second <= LONGEST_GAP_S) {
        detector.accept(closed);
      } else {
        detector = new HandlingDetector();
      }
    }
    open = new OpenBin(tracker, now);
    second = now;
  }

  /** How it stands; empty where it lies. */
  Optional<HandlingProgress> progress() {
    return detector.progress();
  }
}
