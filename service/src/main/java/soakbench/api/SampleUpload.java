package soakbench.api;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalLong;
import soakbench.lines.LineAnswer;
import soakbench.lines.LineParser;
import soakbench.lines.LineSplitter;
import soakbench.lines.Reading;
import soakbench.lines.Rejection;
import soakbench.live.Arrivals;
import soakbench.live.Arrivals.Arrival;
import soakbench.live.Arrivals.Door;
import soakbench.live.Sink;
import soakbench.model.Sample;

/**
 * Turns the lines of one request into samples and hands them on in batches, so that a large upload
 * never stands in memory. A line that can't be used is noted; the others are kept.
 */
final class SampleUpload implements LineSplitter.Lines {
  /** Most samples handed on, and most lines kept back, at a time. */
  static final int BATCH = 5_000;

  private static final long FUTURE_LIMIT_US = 10_000_000L;

  /** A time further ahead than any clock is wrong would shut out all samples after it. */
  private static final long FARTHEST_AHEAD_US = 86_400_000_000L;

  private record Waiting(long line, Reading reading) {}

  private final Sink sink;
  private final Arrivals arrivals;
  private final BootClocks boots;
  private final long arrivalUs;
  private final LineParser parser = new LineParser();
  private final UploadResult result = new UploadResult();
  private final Map<String, UploadTracker> trackers = new HashMap<>();
  private final List<Waiting> waiting = new ArrayList<>();
  private final List<Sample> batch = new ArrayList<>();
  private long line;

  /**
   * @param arrivals told of each reading as it is read
   * @param arrivalUs when the request arrived, microseconds since 1970
   */
  SampleUpload(Sink sink, Arrivals arrivals, BootClocks boots, long arrivalUs) {
    this.sink = sink;
    this.arrivals = arrivals;
    this.boots = boots;
    this.arrivalUs = arrivalUs;
  }

  @Override
  public void line(byte[] bytes, int offset, int length) {
    line++;
    LineAnswer answer = parser.parse(bytes, offset, length);
    if (answer instanceof Rejection rejection) {
      result.reject(line, rejection.reason());
    } else if (answer instanceof Reading reading) {
      take(reading);
    }
  }

  @Override
  public void overLong(byte[] bytes, int offset, int length) {
    line++;
    result.reject(line, "The line is longer than " + LineSplitter.LONGEST_LINE + " bytes.");
  }

  private void take(Reading reading) {
    if (reading.id() != null && reading.timeUs() != Reading.NO_TIME) {
      // Also where its time is refused below: heat is seen whatever a stamp says.
      tell(reading, reading.timeUs());
    }
    if (reading.id() == null) {
      result.reject(line, "The line has no id; it says which tracker was read.");
    } else if (reading.timeUs() == Reading.NO_TIME
        && (reading.boot() == null || reading.tMs() < 0)) {
      result.reject(line, "The line needs time, or boot (an id per power-up) with t_ms.");
    } else if (reading.timeUs() > System.currentTimeMillis() * 1000 + FARTHEST_AHEAD_US) {
      result.reject(
          line,
          "The time "
              + Times.text(reading.timeUs())
              + " is more than a day ahead of this computer's clock. Set the sender's clock, or"
              + " this one.");
    } else {
      waiting.add(new Waiting(line, reading));
      if (waiting.size() >= BATCH) {
        handOn();
      }
    }
  }

  private void tell(Reading reading, long stampUs) {
    double celsius = reading.hasTemperature() ? reading.temperatureC() : Double.NaN;
    arrivals.heard(new Arrival(reading.id(), stampUs, celsius, Door.POSTED));
  }

  /** Hands on what is left and gives the answer. */
  UploadResult.Answer end() {
    handOn();
    trackers.values().forEach(tracker -> tracker.end(batch::add));
    store();
    return result.answer();
  }

  /** How many samples were handed on so far. */
  int taken() {
    return result.taken();
  }

  private void handOn() {
    fixNewBoots();
    for (Waiting each : waiting) {
      place(each);
    }
    waiting.clear();
    store();
  }

  private void store() {
    if (!batch.isEmpty()) {
      result.add(sink.accept(List.copyOf(batch)));
      batch.clear();
    }
  }

  private void fixNewBoots() {
    record Boot(String tracker, String boot) {}
    Map<Boot, Long> newestTMs = new HashMap<>();
    for (Waiting each : waiting) {
      Reading reading = each.reading();
      if (reading.timeUs() == Reading.NO_TIME) {
        newestTMs.merge(new Boot(reading.id(), reading.boot()), reading.tMs(), SampleUpload::newer);
      }
    }
    newestTMs.forEach((key, tMs) -> boots.fix(key.tracker(), key.boot(), tMs, arrivalUs));
  }

  /** The newer of two readings of a counter that wraps at 2^32. */
  private static long newer(long a, long b) {
    return (int) (b - a) > 0 ? b : a;
  }

  private void place(Waiting each) {
    Reading reading = each.reading();
    OptionalLong timeUs = timeUs(reading);
    if (reading.timeUs() == Reading.NO_TIME) {
      tell(reading, timeUs.orElse(Long.MIN_VALUE));
    }
    String reason =
        timeUs.isPresent()
            ? tracker(reading.id()).take(reading, timeUs.getAsLong(), batch::add)
            : "t_ms "
                + reading.tMs()
                + " of boot "
                + reading.boot()
                + " lies more than 10 s after the request arrived. Send sooner and at most "
                + BATCH
                + " lines first, or send time.";
    if (reason != null) {
      result.reject(each.line(), reason);
    }
  }

  /** When the reading was taken; nothing where that would be after it was sent. */
  private OptionalLong timeUs(Reading reading) {
    if (reading.timeUs() != Reading.NO_TIME) {
      return OptionalLong.of(reading.timeUs());
    }
    return boots.timeUs(reading.id(), reading.boot(), reading.tMs(), arrivalUs + FUTURE_LIMIT_US);
  }

  private UploadTracker tracker(String id) {
    return trackers.computeIfAbsent(id, UploadTracker::new);
  }
}
