package soakbench.demo.lines;

import java.util.SplittableRandom;

/** What a tracker prints beside good lines: chatter, half lines, impossible figures. */
public final class DirtMaker {
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

  private static final int AT_BOOT = 5;

  private final LineStream.Dirt dirt;
  private final double perLineH;
  private final SplittableRandom random;

  public DirtMaker(LineStream stream, SplittableRandom random) {
    this.dirt = stream.dirt();
    this.perLineH = 1 / (stream.rateHz() * 3600);
    this.random = random;
  }

  public void boot(LineBuffer out) {
    for (int i = 0; dirt.atBoot() && i < AT_BOOT; i++) {
      chatter(out);
    }
  }

  /** Puts chatter before a line now and then. */
  public void before(LineBuffer out) {
    if (dirt.chatterPerH() > 0 && random.nextDouble() < dirt.chatterPerH() * perLineH) {
      chatter(out);
    }
  }

  /** Makes a figure impossible now and then. */
  public void spoil(Shown shown) {
    if (dirt.absurdPerH() > 0 && random.nextDouble() < dirt.absurdPerH() * perLineH) {
      if (random.nextBoolean()) {
        shown.temperatureC = 999.9;
      } else {
        shown.gyroDps[random.nextInt(3)] = 987654.321;
      }
    }
  }

  /** Cuts the line that begins at {@code from} short now and then, with or without its end. */
  public void cut(LineBuffer out, int from) {
    if (dirt.halfPerH() > 0 && random.nextDouble() < dirt.halfPerH() * perLineH) {
      out.cut(from + 1 + random.nextInt(out.length() - from - 2));
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
