package soakbench.api.samples;

import io.javalin.http.Context;
import java.io.FilterInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.LongConsumer;
import soakbench.api.access.OtherRacks;
import soakbench.api.http.Times;
import soakbench.ingest.rackfile.LineSettings;
import soakbench.ingest.source.Recording;
import soakbench.ingest.source.RecordingSummary;
import soakbench.lines.LineCounts;
import soakbench.live.SampleSink;
import soakbench.live.arrival.Arrival;
import soakbench.model.Sample;

/**
 * One recording, sent as the file that it is, and read the way `replay` reads it. Its length
 * doesn't matter: some thousand samples are in memory at a time. Not thread-safe.
 */
public final class RecordingUpload {
  private final UploadContext context;
  private final NewTrackerQuota.OneRequest quota;
  private final OtherRacks.OneRequest otherRacks;
  private final UploadResult result = new UploadResult();
  private final UploadBatch batch;
  private final Set<String> trackers = new TreeSet<>();
  private long rejected;
  private String unused;
  private String problem;

  /**
   * @param context of recordings
   * @param sender who sends it
   */
  public RecordingUpload(UploadContext context, String sender) {
    this.context = context;
    this.quota = context.quota().request(sender);
    this.otherRacks = context.otherRacks().request("", id -> false);
    this.batch = new UploadBatch(context.scheduler(), result);
  }

  /**
   * What became of a recording.
   *
   * @param samples what became of its samples
   * @param rejected how many of its lines gave none
   * @param trackers whose they are
   * @param unused which lines gave none, in words; null where all did
   * @param problem why it failed, in part or as a whole; null where it did not
   */
  public record Outcome(
      SampleSink.Outcome samples,
      long rejected,
      Set<String> trackers,
      String unused,
      String problem) {}

  /** It can't be used, and nothing more of it is read. */
  private static final class UselessException extends RuntimeException {
    private static final long serialVersionUID = 1L;

    UselessException(String why) {
      super(why, null, false, false);
    }
  }

  /**
   * Reads the body of a request.
   *
   * @param name what the recording is called in messages
   * @param tracker whose the lines without an id are; null where they have one
   * @param goOn called with the number of bytes so far before more are read; throws to end it
   */
  public Outcome read(Context ctx, String name, String tracker, LongConsumer goOn) {
    try (InputStream body = new Counted(UploadBody.stream(ctx), goOn)) {
      LineSettings lines = new LineSettings(tracker, null, null);
      ended(Recording.read(body, name, lines, samples -> take(samples, tracker)));
    } catch (UselessException e) {
      problem = e.getMessage();
    } catch (UploadBody.BrokenException e) {
      throw UploadBody.failure(e, "What came before was kept.");
    } catch (IOException e) {
      problem = e.getMessage();
    }
    batch.store();
    UploadResult.Answer samples = result.answer();
    return new Outcome(
        new SampleSink.Outcome(samples.accepted(), samples.duplicate(), samples.conflicting()),
        rejected,
        trackers,
        unused,
        problem);
  }

  private void take(List<Sample> samples, String tracker) {
    for (Sample sample : samples) {
      refuseUseless(sample, tracker);
      String refusal = otherRacks.refusal(sample.tracker());
      refusal = refusal == null ? quota.refusal(sample.tracker()) : refusal;
      refusal = refusal == null ? context.ahead(sample.timeUs()) : refusal;
      refusal =
          refusal == null ? context.dropped().apply(sample.tracker(), sample.timeUs()) : refusal;
      if (refusal == null) {
        keep(sample);
      } else {
        rejected++;
        problem = problem == null ? refusal : problem;
      }
    }
  }

  private void keep(Sample sample) {
    if (trackers.add(sample.tracker())) {
      context.arrivals().heard(Arrival.recorded(sample.tracker(), sample.timeUs()));
    }
    batch.accept(sample);
  }

  private static void refuseUseless(Sample sample, String tracker) {
    if (Recording.isUndated(sample)) {
      throw new UselessException(undated(Times.text(sample.timeUs())));
    }
    if (tracker != null && !sample.tracker().equals(tracker)) {
      throw new UselessException(
          "Its lines are of tracker " + sample.tracker() + ", not of " + tracker + ".");
    }
  }

  private static String undated(String time) {
    return "Nothing in it says when it was recorded: it would begin at "
        + time
        + ". Add a column or member time, or arrival, to its lines.";
  }

  private void ended(RecordingSummary summary) {
    LineCounts counts = summary.counts();
    rejected += counts.rejectedTotal();
    if (counts.rejectedTotal() > 0 && summary.samples() > 0) {
      unused = counts.unused();
    }
    if (summary.samples() == 0) {
      problem = "It holds no sample: " + counts.unused() + ".";
    }
  }

  /** Counts what is read. */
  private static final class Counted extends FilterInputStream {
    private final LongConsumer goOn;
    private long total;

    Counted(InputStream in, LongConsumer goOn) {
      super(in);
      this.goOn = goOn;
    }

    @Override
    public int read(byte[] bytes, int offset, int length) throws IOException {
      int count = super.read(bytes, offset, length);
      total += Math.max(0, count);
      goOn.accept(total);
      return count;
    }
  }
}
