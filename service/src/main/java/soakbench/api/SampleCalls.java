package soakbench.api;

import io.javalin.http.Context;
import java.io.EOFException;
import java.io.IOException;
import java.io.InputStream;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.TimeoutException;
import java.util.zip.GZIPInputStream;
import java.util.zip.ZipException;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.lines.LineSplitter;
import soakbench.live.EventClock;
import soakbench.live.Sink;

/** Takes samples. */
final class SampleCalls {
  private static final Logger LOG = LoggerFactory.getLogger(SampleCalls.class);
  private static final List<String> MEDIA_TYPES = List.of("application/x-ndjson", "text/csv");
  private static final int READ_BYTES = 1 << 16;

  private final Sink sink;
  private final EventClock clock;
  private final long largestBytes;
  private final Standing standing;
  private final BootClocks boots = new BootClocks();

  /**
   * @param standing an upload ends where the service stops
   */
  SampleCalls(Sink sink, EventClock clock, long largestBytes, Standing standing) {
    this.standing = standing;
    this.sink = sink;
    this.clock = clock;
    this.largestBytes = largestBytes;
  }

  void addTo(Routes routes) {
    routes.post("/api/samples", this::take);
  }

  private void take(Context ctx) {
    Form.requireJson(ctx);
    requireMediaType(ctx);
    if (ctx.req().getContentLengthLong() > largestBytes) {
      throw tooLarge(0);
    }
    SampleUpload upload = new SampleUpload(sink, boots, clock.nowUs());
    try {
      take(ctx, upload);
    } finally {
      if (standing.isStopping()) {
        LOG.warn(
            "stopping: of an upload by {} {} samples had been taken; its sender is told to send the"
                + " rest again, or finds the connection closed",
            ctx.ip(),
            upload.taken());
      }
    }
  }

  private void take(Context ctx, SampleUpload upload) {
    try (InputStream body = unpacked(ctx)) {
      read(body, upload);
    } catch (ZipException | EOFException e) {
      throw new ProblemException(
          Problem.Kind.INVALID_REQUEST,
          "The body is not whole gzip (" + e.getMessage() + "). " + kept(upload.taken()));
    } catch (IOException e) {
      throw broken(e, upload.taken());
    }
    Answers.json(ctx, upload.end());
  }

  private static RuntimeException broken(IOException e, int taken) {
    if (e.getCause() instanceof TimeoutException) {
      return new ProblemException(
          Problem.Kind.TIMEOUT,
          "The body stopped coming before it was whole. " + kept(taken) + " Send it again.");
    }
    return new ClientLeftException(e);
  }

  private static void requireMediaType(Context ctx) {
    String type = ctx.contentType();
    String bare = type == null ? "" : type.split(";", 2)[0].strip().toLowerCase(Locale.ROOT);
    if (!MEDIA_TYPES.contains(bare)) {
      throw new ProblemException(
          Problem.Kind.UNSUPPORTED_MEDIA_TYPE,
          "Samples are taken as application/x-ndjson (a JSON object a line) or text/csv (a header"
              + " line first); set Content-Type. The request has "
              + (bare.isEmpty() ? "none." : bare + "."));
    }
  }

  private static InputStream unpacked(Context ctx) throws IOException {
    String encoding = ctx.header("Content-Encoding");
    if (encoding == null || encoding.equalsIgnoreCase("identity")) {
      return ctx.bodyInputStream();
    }
    if (encoding.equalsIgnoreCase("gzip")) {
      return new GZIPInputStream(ctx.bodyInputStream(), READ_BYTES);
    }
    ctx.header("Accept-Encoding", "gzip");
    throw new ProblemException(
        Problem.Kind.UNSUPPORTED_MEDIA_TYPE,
        "Content-Encoding " + encoding + " is not known; send plain lines or gzip.");
  }

  private void read(InputStream body, SampleUpload upload) throws IOException {
    LineSplitter splitter = new LineSplitter(upload);
    byte[] buffer = new byte[READ_BYTES];
    long total = 0;
    for (int count = body.read(buffer); count >= 0; count = body.read(buffer)) {
      total += count;
      if (total > largestBytes) {
        throw tooLarge(upload.taken());
      }
      splitter.feed(buffer, 0, count);
      if (standing.isStopping()) {
        throw new ProblemException(
            Problem.Kind.BUSY,
            "The service is stopping. "
                + kept(upload.taken())
                + " Send the lines again when it is back; sending some again does no harm.");
      }
    }
    splitter.end();
  }

  private ProblemException tooLarge(int taken) {
    return new ProblemException(
        Problem.Kind.TOO_LARGE,
        "A request may hold "
            + largestBytes
            + " bytes of lines, unpacked. "
            + kept(taken)
            + " Send the lines in smaller requests; sending some again does no harm.");
  }

  private static String kept(int taken) {
    return taken == 0
        ? "Nothing of it was kept."
        : "The first " + taken + " samples of it were kept.";
  }
}
