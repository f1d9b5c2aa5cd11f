package soakbench.demo.lines;

import java.util.SplittableRandom;

/** Injects faults into what a tracker prints: chatter, truncated lines, values out of range. */
public final class FaultInjector {
  private static final String[] CHATTER = {
    "-- awake, cause 2 --",
    "imu answers, who=0x5a",
    "cell 3.91 V 74 pct",
    "note: nothing stored, starting from zero",
    "{}",
    "",
    "T=24.5 fine",
    "\u001b[33mlink weak (-71)\u001b[0m"
  };

  /** What a port shows while the sender still has another speed: not text in any encoding. */
  private static final byte[] GARBAGE = {
    (byte) 0xf8, (byte) 0x80, 0x78, (byte) 0xfe, 0x06, (byte) 0xc0, '\n'
  };

  private static final int LINES_AT_BOOT = 5;

  private final LineStream.Faults faults;
  private final double perLineH;
  private final SplittableRandom random;

  public FaultInjector(LineStream stream, SplittableRandom random) {
    this.faults = stream.faults();
    this.perLineH = 1 / (stream.rateHz() * 3600);
    this.random = random;
  }

  public void boot(LineBuffer out) {
    for (int i = 0; faults.chatterAtBoot() && i < LINES_AT_BOOT; i++) {
      chatter(out);
    }
  }

  /** Puts chatter before a line now and then. */
  public void before(LineBuffer out) {
    if (faults.chatterPerH() > 0 && random.nextDouble() < faults.chatterPerH() * perLineH) {
      chatter(out);
    }
  }

  /** Puts a value out of range now and then. */
  public void corrupt(LineValues values) {
    if (faults.outOfRangePerH() > 0 && random.nextDouble() < faults.outOfRangePerH() * perLineH) {
      if (random.nextBoolean()) {
        values.temperatureC = 999.9;
      } else {
        values.gyroDps[random.nextInt(3)] = 987654.321;
      }
    }
  }

  /** Truncates the line that begins at {@code from} now and then, with or without its end. */
  public void truncate(LineBuffer out, int from) {
    if (faults.truncatedPerH() > 0 && random.nextDouble() < faults.truncatedPerH() * perLineH) {
      out.truncate(from + 1 + random.nextInt(out.length() - from - 2));
      if (random.nextBoolean()) {
        out.add('\n');
      }
    }
  }

  private void chatter(LineBuffer out) {
    int which = random.nextInt(CHATTER.length + 1);
    if (which == CHATTER.length) {
      out.add(GARBAGE);
    } else {
      out.add(CHATTER[which]).add('\n');
    }
  }
}
