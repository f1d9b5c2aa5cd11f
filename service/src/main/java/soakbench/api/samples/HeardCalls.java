package soakbench.api.samples;

import io.javalin.http.Context;
import java.io.IOException;
import java.io.InputStream;
import soakbench.api.access.AccessLoad;
import soakbench.api.http.AnswerForm;
import soakbench.api.http.Answers;
import soakbench.api.http.Problem;
import soakbench.api.http.ProblemException;
import soakbench.api.http.Routes;
import soakbench.lines.LineSplitter;

/**
 * Hears what trackers say now and stores nothing, so that it never waits for the database: while
 * that is away, whoever keeps samples back until they can be stored tells the newest here.
 */
public final class HeardCalls {
  static final String PATH = "/api/heard";

  /** Some thousand trackers, a line or two of each. */
  private static final int LARGEST_BYTES = 1 << 21;

  private static final int READ_BYTES = 1 << 16;

  private final UploadDoor door;

  public HeardCalls(UploadDoor door) {
    this.door = door;
  }

  public void addTo(Routes routes) {
    routes.post(PATH, this::hear);
  }

  private void hear(Context ctx) {
    AnswerForm.requireJson(ctx);
    SampleCalls.requireMediaType(ctx);
    HeardLines lines =
        new HeardLines(
            new UploadHearing(door.arrivals()), door.news().request(AccessLoad.client(ctx.ip())));
    try (InputStream body = UploadBody.unpacked(ctx)) {
      read(body, lines);
    } catch (IOException e) {
      throw UploadBody.failure(e, "What came before was heard.");
    }
    Answers.json(ctx, lines.answer());
  }

  private static void read(InputStream body, HeardLines lines) throws IOException {
    LineSplitter splitter = new LineSplitter(lines);
    byte[] buffer = new byte[READ_BYTES];
    int total = 0;
    for (int count = body.read(buffer); count >= 0; count = body.read(buffer)) {
      total += count;
      if (total > LARGEST_BYTES) {
        throw new ProblemException(
            Problem.Kind.TOO_LARGE,
            "A request to "
                + PATH
                + " may hold "
                + LARGEST_BYTES
                + " bytes of lines, unpacked: the newest one or two of each tracker. Samples that"
                + " are to be kept go to /api/samples.");
      }
      splitter.feed(buffer, 0, count);
    }
    splitter.end();
  }
}
