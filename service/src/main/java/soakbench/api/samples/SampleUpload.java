package soakbench.api.samples;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalLong;
import soakbench.api.access.OtherRacks;
import soakbench.lines.LineParser;
import soakbench.lines.LineResult;
import soakbench.lines.LineSplitter;
import soakbench.lines.Reading;
import soakbench.lines.Rejection;

/**
 * Turns the lines of one request into samples and passes them on in batches, so that a large upload
 * is never in memory as a whole. A line that can't be used is reported; the others are stored. Some
 * thousand lines are monitored for heat before the first of them is stored, since that must not
 * wait for a store.
 */
final class SampleUpload implements LineSplitter.Lines {
  /** Most lines kept back at a time. */
  static final int WINDOW = 5_000;

  private static final long FUTURE_LIMIT_US = 10_000_000L;

  private record Waiting(long line, Reading reading) {}

  private final UploadContext context;
  private final NewTrackerQuota.OneRequest quota;
  private final OtherRacks.OneRequest otherRacks;
  private final long arrivalUs;
  private final LineParser parser = new LineParser();
  private final UploadResult result = new UploadResult();
  private final UploadBatch batch;
  private final Map<String, UploadStream> trackers = new HashMap<>();
  private final List<Waiting> waiting = new ArrayList<>();
  private long line;

  /**
   * @param sender who sends it
   * @param rack on which it reads; empty where it does not say
   */
  SampleUpload(UploadContext context, String sender, String rack) {
    this.context = context;
    this.quota = context.quota().request(sender);
    this.otherRacks = context.otherRacks().request(rack, id -> quota.refusal(id) == null);
    this.arrivalUs = context.clock().nowUs();
    this.batch = new UploadBatch(context.scheduler(), result);
  }

  @Override
  public void line(byte[] bytes, int offset, int length) {
    line++;
    LineResult answer = parser.parse(bytes, offset, length);
    if (answer instanceof Rejection rejection) {
      Reading rest = rejection.untimed();
      if (rest != null && rest.id() != null && isTaken(rest.id())) {
        context.hearsWithoutTime(rest);
      }
      result.reject(line, rejection.reason());
    } else if (answer instanceof Reading reading) {
      take(reading);
    }
  }

  private boolean isTaken(String id) {
    return otherRacks.refusal(id) == null && quota.refusal(id) == null;
  }

  @Override
  public void overLong(byte[] bytes, int offset, int length) {
    line++;
    result.reject(line, "The line is longer than " + LineSplitter.LONGEST_LINE + " bytes.");
  }

  private void take(Reading reading) {
    if (reading.id() == null) {
      result.reject(line, "The line has no id; it says which tracker was read.");
      return;
    }
    String elsewhere = otherRacks.refusal(reading.id());
    if (elsewhere != null) {
      result.rejectElsewhere(line, elsewhere);
      return;
    }
    String refusal = quota.refusal(reading.id());
    if (refusal != null) {
      result.rejectNew(line, refusal);
      return;
    }
    boolean byBoot = reading.timeUs() == Reading.NO_TIME;
    if (byBoot && (reading.boot() == null || reading.tMs() < 0)) {
      context.hearsWithoutTime(reading);
      result.reject(line, "The line needs time, or boot (an id per power-up) with t_ms.");
      return;
    }
    if (!byBoot) {
      context.hears(reading, reading.timeUs());
      String ahead = context.ahead(reading.timeUs());
      if (ahead != null) {
        result.reject(line, ahead);
        return;
      }
    }
    waiting.add(new Waiting(line, reading));
    if (waiting.size() >= WINDOW) {
      handOn();
      batch.store();
    }
  }

  /** Passes on what is left and gives the answer. */
  UploadResult.Answer end() {
    handOn();
    trackers.values().forEach(tracker -> tracker.end(batch));
    batch.store();
    return result.answer();
  }

  /** How many samples were passed on so far. */
  int taken() {
    return result.taken();
  }

  private void handOn() {
    fixNewBoots();
    for (Waiting each : waiting) {
      if (each.reading().timeUs() == Reading.NO_TIME) {
        context.hears(each.reading(), timeUs(each.reading()).orElse(Reading.NO_TIME));
      }
    }
    for (Waiting each : waiting) {
      place(each);
    }
    waiting.clear();
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
    newestTMs.forEach((key, tMs) -> context.boots().fix(key.tracker(), key.boot(), tMs, arrivalUs));
  }

  /** The newer of two readings of a counter that wraps at 2^32. */
  private static long newer(long a, long b) {
    return (int) (b - a) > 0 ? b : a;
  }

  private void place(Waiting each) {
    Reading reading = each.reading();
    OptionalLong timeUs = timeUs(reading);
    String reason =
        timeUs.isPresent()
            ? take(reading, timeUs.getAsLong())
            : ("t_ms %d of boot %s lies more than 10 s after the request arrived. Send sooner and"
                    + " at most %d lines first, or send time.")
                .formatted(reading.tMs(), reading.boot(), WINDOW);
    if (reason != null) {
      result.reject(each.line(), reason);
    }
  }

  private String take(Reading reading, long timeUs) {
    String gone = context.dropped().apply(reading.id(), timeUs);
    return gone == null ? tracker(reading.id()).take(reading, timeUs, batch) : gone;
  }

  /** When the reading was taken; nothing where that would be after it was sent. */
  private OptionalLong timeUs(Reading reading) {
    if (reading.timeUs() != Reading.NO_TIME) {
      return OptionalLong.of(reading.timeUs());
    }
    return context
        .boots()
        .timeUs(reading.id(), reading.boot(), reading.tMs(), arrivalUs + FUTURE_LIMIT_US);
  }

  private UploadStream tracker(String id) {
    return trackers.computeIfAbsent(id, UploadStream::new);
  }
}
