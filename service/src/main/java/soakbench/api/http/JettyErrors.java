package soakbench.api.http;

import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import org.eclipse.jetty.http.HttpFields;
import org.eclipse.jetty.http.HttpHeader;
import org.eclipse.jetty.http.HttpStatus;
import org.eclipse.jetty.server.Request;
import org.eclipse.jetty.server.Response;
import org.eclipse.jetty.server.handler.ErrorHandler;
import org.eclipse.jetty.util.Callback;

/**
 * Problem documents for what the HTTP server refuses before any handler sees it: an impossible
 * path, headers without end, a request that never arrives.
 */
public final class JettyErrors extends ErrorHandler {
  private static final String RETRY_S = "1";

  @Override
  protected void generateResponse(
      Request request,
      Response response,
      int code,
      String message,
      Throwable cause,
      Callback done) {
    boolean cell = CellErrors.isCell(Request.getPathInContext(request));
    response.getHeaders().put(HttpHeader.CONTENT_TYPE, cell ? CellErrors.TYPE : Problem.MEDIA_TYPE);
    if (code == HttpStatus.TOO_MANY_REQUESTS_429 || code == HttpStatus.SERVICE_UNAVAILABLE_503) {
      response.getHeaders().put(HttpHeader.RETRY_AFTER, RETRY_S);
    }
    SecurityHeaders.each((name, value) -> response.getHeaders().put(name, value));
    Problem problem = problem(code, message);
    if (cell && CellErrors.isAskedAsText(request.getHttpURI().getQuery())) {
      response.setStatus(HttpStatus.OK_200);
    }
    byte[] answer = cell ? CellErrors.line(problem) : json(problem);
    response.write(true, ByteBuffer.wrap(answer), done);
  }

  @Override
  public boolean errorPageForMethod(String method) {
    return true;
  }

  @Override
  public ByteBuffer badMessageError(int status, String reason, HttpFields.Mutable fields) {
    fields.put(HttpHeader.CONTENT_TYPE, Problem.MEDIA_TYPE);
    return ByteBuffer.wrap(json(problem(status, reason)));
  }

  private static Problem problem(int status, String message) {
    String detail =
        switch (status) {
          case HttpStatus.TOO_MANY_REQUESTS_429 ->
              "This client asks for more than its share. Ask less often and less at once.";
          case HttpStatus.SERVICE_UNAVAILABLE_503 ->
              "The service answers as many requests as it can; ask again in a moment.";
          case HttpStatus.URI_TOO_LONG_414 ->
              "The address is longer than 16 KiB; ask for fewer things at once, or for all of a lot"
                  + " or rack.";
          case HttpStatus.REQUEST_TIMEOUT_408 -> "The request stopped coming before it was whole.";
          default ->
              status >= 500
                  ? "The server could not take the request; its log says why."
                  : "The server could not read the request: " + message + ".";
        };
    return Problem.ofStatus(status, detail);
  }

  private static byte[] json(Problem problem) {
    return Json.write(problem).getBytes(StandardCharsets.UTF_8);
  }
}
