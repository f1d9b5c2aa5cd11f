package soakbench.api.samples;

import soakbench.lines.LineParser;
import soakbench.lines.LineResult;
import soakbench.lines.LineSplitter;
import soakbench.lines.Reading;
import soakbench.lines.Rejection;

/** The lines of one request that are monitored and not stored. Not thread-safe. */
final class HeardLines implements LineSplitter.Lines {
  /**
   * The answer.
   *
   * @param heard lines that were monitored
   * @param passedOver lines that were not: they can't be read, or bear no id, or one beyond those
   *     that may be new, or of a rack for which another service writes
   */
  record Answer(int heard, int passedOver) {}

  private final UploadContext context;
  private final NewTrackerQuota.OneRequest quota;
  private final LineParser parser = new LineParser();
  private int heard;
  private int passedOver;

  HeardLines(UploadContext context, NewTrackerQuota.OneRequest quota) {
    this.context = context;
    this.quota = quota;
  }

  @Override
  public void line(byte[] bytes, int offset, int length) {
    LineResult answer = parser.parse(bytes, offset, length);
    if (answer instanceof Reading reading) {
      take(reading);
    } else if (answer instanceof Rejection rejection) {
      take(rejection.untimed());
    }
  }

  private void take(Reading reading) {
    if (reading == null || reading.id() == null || !takes(reading.id())) {
      passedOver++;
      return;
    }
    if (reading.timeUs() == Reading.NO_TIME) {
      context.hearsWithoutTime(reading);
    } else {
      context.hears(reading, reading.timeUs());
    }
    heard++;
  }

  private boolean takes(String id) {
    return context.otherRacks().isOwn(id) && quota.takesAtOnce(id);
  }

  @Override
  public void overLong(byte[] bytes, int offset, int length) {
    passedOver++;
  }

  Answer answer() {
    return new Answer(heard, passedOver);
  }
}
