package soakbench.api.soaks;

import io.javalin.http.Context;
import java.util.List;
import soakbench.api.http.NextPage;
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
    return NextPage.of(ctx, lastId, KEPT_IN_NEXT);
  }
}
