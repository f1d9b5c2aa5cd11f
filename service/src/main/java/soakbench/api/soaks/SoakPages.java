package soakbench.api.soaks;

import io.javalin.http.Context;
import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.util.List;
import soakbench.api.http.ProblemException;
import soakbench.api.http.QueryParameters;
import soakbench.store.SoakArchive;
import soakbench.store.SoakQuery;

/** Which soaks a request asks for, page by page. */
public final class SoakPages {
  private static final List<String> KEPT_IN_NEXT =
      List.of("from", "limit", "lot", "rack", "to", "tracker");

  /** All that may be asked. */
  public static final String[] PARAMETERS = {
    "after", "decimal", "from", "limit", "lot", "rack", "to", "tracker"
  };

  private SoakPages() {}

  /**
   * The soaks that the parameters tracker, lot, rack, from, to and after ask for.
   *
   * @throws ProblemException 400 if one of them can't be understood
   */
  public static SoakQuery query(Context ctx, SoakArchive archive, int limit) {
    return new SoakQuery(
        QueryParameters.text(ctx, "tracker"),
        QueryParameters.text(ctx, "lot"),
        QueryParameters.text(ctx, "rack"),
        QueryParameters.timeUs(ctx, "from"),
        QueryParameters.timeUs(ctx, "to"),
        after(ctx, archive),
        limit);
  }

  private static String after(Context ctx, SoakArchive archive) {
    String id = QueryParameters.text(ctx, "after");
    if (id != null && archive.soak(id).isEmpty()) {
      throw QueryParameters.invalid(
          "after",
          "after=" + id + " names no soak (any more); list again from the beginning, without it.");
    }
    return id;
  }

  /** The address of the next page: this one with the place where it ended. */
  public static String next(Context ctx, String lastId) {
    StringBuilder address = new StringBuilder(ctx.path()).append("?after=").append(escaped(lastId));
    for (String name : KEPT_IN_NEXT) {
      String value = QueryParameters.text(ctx, name);
      if (value != null) {
        address.append('&').append(name).append('=').append(escaped(value));
      }
    }
    return address.toString();
  }

  private static String escaped(String text) {
    return URLEncoder.encode(text, StandardCharsets.UTF_8);
  }
}
