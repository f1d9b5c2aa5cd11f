package soakbench.api.http;

import io.javalin.http.Context;
import java.util.List;
import java.util.Locale;
import org.eclipse.jetty.http.QuotedQualityCSV;

/** The format of a response: by a {@code .csv} ending, else by what the client accepts. */
public enum ResponseFormat {
  JSON("application/json"),
  CSV("text/csv");

  private final String mediaType;

  ResponseFormat(String mediaType) {
    this.mediaType = mediaType;
  }

  /**
   * The format in which the client wants a table.
   *
   * @throws ProblemException 406 if it accepts neither
   */
  public static ResponseFormat wanted(Context ctx) {
    if (ctx.path().endsWith(".csv")) {
      return CSV;
    }
    ctx.header("Vary", "Accept");
    return choose(ctx, List.of(JSON, CSV));
  }

  /**
   * Makes sure that the client takes JSON.
   *
   * @throws ProblemException 406 if it does not
   */
  public static void requireJson(Context ctx) {
    choose(ctx, List.of(JSON));
  }

  private static ResponseFormat choose(Context ctx, List<ResponseFormat> offered) {
    String accept = ctx.header("Accept");
    if (accept == null || accept.isBlank()) {
      return offered.get(0);
    }
    QuotedQualityCSV ranges = new QuotedQualityCSV();
    ranges.addValue(accept);
    for (String range : ranges.getValues()) {
      for (ResponseFormat form : offered) {
        if (form.matches(range)) {
          return form;
        }
      }
    }
    throw new ProblemException(
        Problem.Kind.NOT_ACCEPTABLE,
        "%s is given as %s; the request accepts only %s."
            .formatted(
                ctx.path(),
                String.join(" or ", offered.stream().map(f -> f.mediaType).toList()),
                accept));
  }

  private boolean matches(String range) {
    String type = range.split(";", 2)[0].strip().toLowerCase(Locale.ROOT);
    String family = mediaType.substring(0, mediaType.indexOf('/') + 1) + "*";
    return type.equals("*/*") || type.equals(mediaType) || type.equals(family);
  }
}
