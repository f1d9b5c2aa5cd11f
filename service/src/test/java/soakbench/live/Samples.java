package soakbench.live;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import soakbench.demo.simulation.SimulateOptions;
import soakbench.demo.simulation.SimulateRun;
import soakbench.lines.LineCounters;
import soakbench.lines.LineReader;
import soakbench.lines.ReadingJoiner;
import soakbench.model.Sample;

/** Samples for tests: simulated runs, and plain ones made by hand. */
public final class Samples {
  public static final String TRACKER = "T-0412";
  public static final long START_S = 1_772_352_000;
  public static final long START_US = START_S * 1_000_000;

  private Samples() {}

  /** Everything that a simulated tracker said. */
  public static List<Sample> simulated(SimulateOptions options) {
    ByteArrayOutputStream lines = new ByteArrayOutputStream();
    try {
      SimulateRun.write(options, lines, null);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    List<Sample> out = new ArrayList<>();
    Map<String, ReadingJoiner> joiners = new HashMap<>();
    LineReader reader =
        new LineReader(
            new LineCounters(),
            r -> {
              joiners
                  .computeIfAbsent(r.id(), id -> new ReadingJoiner(id, 30))
                  .take(r, r.timeUs(), out::add);
              return null;
            });
    byte[] bytes = lines.toByteArray();
    reader.feed(bytes, 0, bytes.length);
    reader.end();
    return out;
  }

  /** One tracker lying still, at ten lines a second. */
  public static final class Maker {
    private final List<Sample> out = new ArrayList<>();
    private final SplittableRandom random = new SplittableRandom(77);
    private double tS;
    private double bootS;
    private long bootMs = 3000;
    private long seq;
    private double celsius = 25;
    private double hz = 10;
    private boolean clock = true;
    private String tracker = TRACKER;

    public Maker at(double celsius) {
      this.celsius = celsius;
      return this;
    }

    public Maker every(double seconds) {
      hz = 1 / seconds;
      return this;
    }

    public Maker named(String id) {
      tracker = id;
      return this;
    }

    /** From here on the lines carry a counter and no clock. */
    public Maker withoutClock() {
      clock = false;
      return this;
    }

    public Maker quiet(double seconds) {
      tS += seconds;
      return this;
    }

    public Maker reboot() {
      return bootAt(1500);
    }

    /** Boots with this clock reading. */
    public Maker bootAt(long tMs) {
      bootS = tS;
      bootMs = tMs;
      seq = 0;
      return this;
    }

    public Maker lines(double seconds) {
      for (int i = 0; i < Math.round(seconds * hz); i++) {
        out.add(next());
        tS += 1 / hz;
      }
      return this;
    }

    private Sample next() {
      long tMs = clock ? (bootMs + Math.round((tS - bootS) * 1000)) % (1L << 32) : -1;
      return new Sample(
          tracker,
          START_US + Math.round(tS * 1e6),
          (float) (celsius + 0.01 * random.nextGaussian()),
          false,
          (float) (0.31 + 0.02 * random.nextGaussian()),
          (float) (-0.12 + 0.02 * random.nextGaussian()),
          (float) (0.05 + 0.02 * random.nextGaussian()),
          Float.NaN,
          Float.NaN,
          Float.NaN,
          seq++,
          tMs);
    }

    public List<Sample> samples() {
      return List.copyOf(out);
    }
  }
}
