package soakbench.api.samples;

import io.javalin.http.Context;
import java.io.EOFException;
import java.io.FilterInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.util.concurrent.TimeoutException;
import java.util.function.LongConsumer;
import java.util.function.Supplier;
import java.util.zip.GZIPInputStream;
import java.util.zip.ZipException;
import org.eclipse.jetty.http.BadMessageException;
import org.eclipse.jetty.io.EofException;
import soakbench.api.http.ClientDisconnectedException;
import soakbench.api.http.Problem;
import soakbench.api.http.ProblemException;
import soakbench.lines.LineSplitter;

/** The bytes of an upload, unpacked where they are packed, and the error where they break off. */
final class UploadBody {
  private static final int READ_BYTES = 1 << 16;

  private UploadBody() {}

  /**
   * Gives what comes to a reader of lines.
   *
   * @param goOn called with the number of bytes so far, unpacked, before more of them are read;
   *     throws to end it
   * @param kept a sentence on what became of what came before, for where it breaks off
   */
  static void read(
      Context ctx, LineSplitter.Lines lines, LongConsumer goOn, Supplier<String> kept) {
    try (InputStream body = stream(ctx)) {
      LineSplitter splitter = new LineSplitter(lines);
      byte[] buffer = new byte[READ_BYTES];
      long total = 0;
      for (int count = body.read(buffer); count >= 0; count = body.read(buffer)) {
        total += count;
        goOn.accept(total);
        splitter.feed(buffer, 0, count);
      }
      splitter.end();
    } catch (IOException e) {
      throw failure(e, kept.get());
    }
  }

  /** The bytes as they were sent, unpacked where Content-Encoding says so. */
  static InputStream stream(Context ctx) throws IOException {
    String encoding = ctx.header("Content-Encoding");
    InputStream sent = new Sent(ctx.bodyInputStream());
    if (encoding == null || encoding.equalsIgnoreCase("identity")) {
      return sent;
    }
    if (encoding.equalsIgnoreCase("gzip")) {
      return new GZIPInputStream(sent, READ_BYTES);
    }
    ctx.header("Accept-Encoding", "gzip");
    throw new ProblemException(
        Problem.Kind.UNSUPPORTED_MEDIA_TYPE,
        "Content-Encoding " + encoding + " is not known; send plain lines or gzip.");
  }

  /**
   * What to answer where reading it failed.
   *
   * @param kept a sentence on what was stored before
   */
  static RuntimeException failure(IOException e, String kept) {
    if (e instanceof BrokenException broken) {
      return broken(broken, kept);
    }
    if (e instanceof EOFException) {
      return unreadable("The body is gzip that ends too early: a part of it is missing. ", kept);
    }
    if (e instanceof ZipException) {
      return unreadable(
          "The body is not gzip, as Content-Encoding says (" + e.getMessage() + "). ", kept);
    }
    return new ClientDisconnectedException(e);
  }

  /** What the connection, not the packing, did wrong. */
  private static RuntimeException broken(BrokenException why, String kept) {
    for (Throwable cause = why; cause != null; cause = cause.getCause()) {
      if (cause instanceof TimeoutException) {
        return new ProblemException(
            Problem.Kind.TIMEOUT,
            "The body stopped coming before it was whole. " + kept + " Send it again.");
      }
      // The server calls chunks that are none an early end too.
      if (cause instanceof EofException || cause instanceof BadMessageException) {
        return unreadable(
            "The body broke off before it was whole, or its chunks can't be told apart. ", kept);
      }
    }
    return new ClientDisconnectedException(why);
  }

  private static ProblemException unreadable(String what, String kept) {
    return new ProblemException(Problem.Kind.INVALID_REQUEST, what + kept + " Send it again.");
  }

  /** The connection itself failed, or what came over it is no HTTP. */
  static final class BrokenException extends IOException {
    private static final long serialVersionUID = 1L;

    BrokenException(Throwable cause) {
      super(cause);
    }
  }

  /** Separates faults of the connection from those of the compressed data. */
  private static final class Sent extends FilterInputStream {
    Sent(InputStream in) {
      super(in);
    }

    @Override
    public int read() throws IOException {
      byte[] one = new byte[1];
      return read(one, 0, 1) < 0 ? -1 : one[0] & 0xFF;
    }

    @Override
    public int read(byte[] bytes, int offset, int length) throws IOException {
      try {
        return super.read(bytes, offset, length);
      } catch (IOException | BadMessageException e) {
        throw new BrokenException(e);
      }
    }
  }
}
