package soakbench.api.samples;

import soakbench.lines.LineParser;
import soakbench.lines.LineResult;
import soakbench.lines.LineSplitter;
import soakbench.lines.Reading;
import soakbench.lines.Rejection;

/** The lines of one request that are heard and not stored. Not thread-safe. */
final class HeardLines implements LineSplitter.Lines {
  /**
   * The answer.
   *
   * @param heard lines that were heard
   * @param passedOver lines that were not: they can't be read, or bear no id, or one beyond those
   *     that may be new
   */
  record Answer(int heard, int passedOver) {}

  private final UploadContext context;
  private final NewTrackers.OneRequest news;
  private final LineParser parser = new LineParser();
  private int heard;
  private int passedOver;

  HeardLines(UploadContext context, NewTrackers.OneRequest news) {
    this.context = context;
    this.news = news;
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
    if (reading == null || reading.id() == null || !news.takesAtOnce(reading.id())) {
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

  @Override
  public void overLong(byte[] bytes, int offset, int length) {
    passedOver++;
  }

  Answer answer() {
    return new Answer(heard, passedOver);
  }
}
