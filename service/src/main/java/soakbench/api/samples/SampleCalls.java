package soakbench.api.samples;

import io.javalin.http.Context;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.api.access.RequestLimiter;
import soakbench.api.health.ServiceStatus;
import soakbench.api.http.Problem;
import soakbench.api.http.ProblemException;
import soakbench.api.http.QueryParameters;
import soakbench.api.http.Routes;

/** Takes samples. */
public final class SampleCalls {
  private static final Logger LOG = LoggerFactory.getLogger(SampleCalls.class);
  private static final List<String> MEDIA_TYPES = List.of("application/x-ndjson", "text/csv");

  /** Marks lines that were sent before and can't be live. */
  private static final String AGAIN = "again";

  /** Where the sender reads: trackers that lie nowhere by the roster lie there. */
  private static final String RACK = "rack";

  private final UploadContext context;
  private final long largestBytes;
  private final ServiceStatus status;

  /**
   * @param status an upload ends where the service stops
   */
  public SampleCalls(UploadContext context, long largestBytes, ServiceStatus status) {
    this.context = context;
    this.status = status;
    this.largestBytes = largestBytes;
  }

  public void addTo(Routes routes) {
    routes.post("/api/samples", Routes.json(this::take), AGAIN, RACK);
  }

  private UploadResult.Answer take(Context ctx) {
    return take(ctx, QueryParameters.flag(ctx, AGAIN) ? context.unheard() : context);
  }

  /** Takes the samples of a request, with what it is to be read by. */
  public UploadResult.Answer take(Context ctx, UploadContext by) {
    requireMediaType(ctx);
    if (ctx.req().getContentLengthLong() > largestBytes) {
      throw tooLarge(0);
    }
    String rack = Objects.requireNonNullElse(QueryParameters.text(ctx, RACK), "");
    SampleUpload upload = new SampleUpload(by, RequestLimiter.client(ctx.ip()), rack);
    try {
      UploadBody.read(
          ctx, upload, bytes -> goOn(bytes, upload.taken()), () -> kept(upload.taken()));
      return upload.end();
    } finally {
      if (status.isStopping()) {
        LOG.warn(
            "stopping: of an upload by {} {} samples had been taken; its sender is told to send the"
                + " rest again, or finds the connection closed",
            ctx.ip(),
            upload.taken());
      }
    }
  }

  static void requireMediaType(Context ctx) {
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

  private void goOn(long bytes, int taken) {
    if (bytes > largestBytes) {
      throw tooLarge(taken);
    }
    if (status.isStopping()) {
      throw new ProblemException(
          Problem.Kind.BUSY,
          "The service is stopping. "
              + kept(taken)
              + " Send the lines again when it is back; sending some again does no harm.");
    }
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
