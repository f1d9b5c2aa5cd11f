package soakbench.api.samples;

import io.javalin.http.Context;
import soakbench.api.access.RequestLimiter;
import soakbench.api.http.Problem;
import soakbench.api.http.ProblemException;
import soakbench.api.http.Routes;

/**
 * Takes the newest lines of trackers and stores nothing, so that it never waits for the database:
 * while that is away, agents that spool samples report the newest here.
 */
public final class HeardCalls {
  static final String PATH = "/api/heard";

  /** Some thousand trackers, a line or two of each. */
  private static final int LARGEST_BYTES = 1 << 21;

  private final UploadContext context;

  public HeardCalls(UploadContext context) {
    this.context = context;
  }

  public void addTo(Routes routes) {
    routes.post(PATH, Routes.json(this::hear));
  }

  private HeardLines.Answer hear(Context ctx) {
    SampleCalls.requireMediaType(ctx);
    HeardLines lines =
        new HeardLines(context, context.quota().request(RequestLimiter.client(ctx.ip())));
    UploadBody.read(ctx, lines, HeardCalls::refuseLarge, () -> "What came before was heard.");
    return lines.answer();
  }

  private static void refuseLarge(long bytes) {
    if (bytes > LARGEST_BYTES) {
      throw new ProblemException(
          Problem.Kind.TOO_LARGE,
          "A request to "
              + PATH
              + " may hold "
              + LARGEST_BYTES
              + " bytes of lines, unpacked: the newest one or two of each tracker. Samples that"
              + " are to be kept go to /api/samples.");
    }
  }
}
