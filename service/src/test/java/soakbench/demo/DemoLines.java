package soakbench.demo;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import soakbench.model.Tracker;

/**
 * What the demo's twelve trackers print, for somebody whose own clock says how far they are: always
 * the same lines at the same moments, however slow the computer is.
 */
public final class DemoLines implements AutoCloseable {
  private final List<Tracker> roster = new ArrayList<>();
  private final List<SlotFeed> feeds = new ArrayList<>();
  private final ByteArrayOutputStream printed = new ByteArrayOutputStream();

  /**
   * @param startUs when the demo begins, microseconds since 1970
   * @param every of each tracker only one line in so many; 1 for all
   */
  public DemoLines(long startUs, int every) throws IOException {
    for (DemoTracker each : new DemoScenario(DemoSettings.DEFAULT_SEED, startUs).trackers()) {
      roster.add(each.tracker());
      feeds.add(new SlotFeed(each, new Kept(every)));
    }
  }

  public List<Tracker> roster() {
    return List.copyOf(roster);
  }

  /** What they printed since this was called before, up to a moment, microseconds since 1970. */
  public String until(long nowUs) throws IOException {
    printed.reset();
    for (SlotFeed feed : feeds) {
      feed.feed(nowUs);
    }
    return printed.toString(StandardCharsets.UTF_8);
  }

  @Override
  public void close() throws IOException {
    for (SlotFeed feed : feeds) {
      feed.close();
    }
  }

  private final class Kept implements Transport {
    private final int every;
    private int lines;

    Kept(int every) {
      this.every = every;
    }

    @Override
    public void plugIn() {}

    @Override
    public void unplug() {}

    @Override
    public int write(byte[] bytes) {
      for (byte each : bytes) {
        if (lines % every == 0) {
          printed.write(each);
        }
        lines += each == '\n' ? 1 : 0;
      }
      return bytes.length;
    }
  }
}
