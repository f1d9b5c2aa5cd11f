package soakbench.api.http;

import io.javalin.http.Context;
import java.nio.charset.StandardCharsets;

/**
 * Errors where a spreadsheet asks for single cells: one short line of text, never a document or a
 * page. Most spreadsheets show an error's status as their own error value and no text; {@code
 * onerror=text} answers with status 200, so that one can read what is wrong.
 */
public final class CellErrors {
  public static final String PARAMETER = "onerror";

  static final String TYPE = "text/plain;charset=utf-8";

  private static final String AS_TEXT = "text";
  private static final String WITH_STATUS = "status";
  private static final int LONGEST = 250;

  private CellErrors() {}

  /** Whether a program asks for cells or a table at this address, so that no page helps. */
  public static boolean isForPrograms(String path) {
    return isCell(path) || path.endsWith(".csv") || path.endsWith(".xlsx");
  }

  static boolean isCell(String path) {
    return path.startsWith(Routes.CELL + "/") || path.equals(Routes.CELLS);
  }

  /**
   * Makes sure that the request asks for errors in a way that there is.
   *
   * @throws ProblemException 400 if not
   */
  public static void check(Context ctx) {
    String asked = QueryParameters.text(ctx, PARAMETER);
    if (asked != null && !asked.equals(AS_TEXT) && !asked.equals(WITH_STATUS)) {
      throw QueryParameters.invalid(PARAMETER, "onerror=" + asked + " must be text or status.");
    }
  }

  static void write(Context ctx, Problem problem) {
    boolean asText = AS_TEXT.equals(ctx.queryParam(PARAMETER));
    ctx.status(asText ? 200 : problem.status()).header("Cache-Control", "no-store");
    ctx.result(line(problem)).contentType(TYPE);
  }

  /** Whether a query, as it stands in the address, asks for the error as text. */
  static boolean isAskedAsText(String query) {
    return query != null && ("&" + query + "&").contains("&onerror=text&");
  }

  /** What is wrong, in one line. */
  static byte[] line(Problem problem) {
    String detail = problem.detail().replaceAll("\\s+", " ");
    String cut = detail.length() > LONGEST ? detail.substring(0, LONGEST - 1) + "…" : detail;
    return ("error: " + cut).getBytes(StandardCharsets.UTF_8);
  }
}
