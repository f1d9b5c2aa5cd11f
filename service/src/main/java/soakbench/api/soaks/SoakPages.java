package soakbench.api.soaks;

import io.javalin.http.Context;
import java.util.List;
import java.util.stream.Stream;
import soakbench.api.http.NextPage;
import soakbench.api.http.ProblemException;
import soakbench.api.http.QueryParameters;
import soakbench.store.SoakArchive;
import soakbench.store.SoakQuery;

/** Which soaks a request asks for, page by page. */
public final class SoakPages {
  private static final List<String> OWN =
      List.of("from", "limit", "lot", "rack", "since", "to", "tracker");

  private static final String AFTER = "after";

  /** All that may be asked beside what any table takes. */
  public static final String[] PARAMETERS =
      Stream.concat(Stream.of(AFTER), OWN.stream()).toArray(String[]::new);

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
        from(ctx),
        QueryParameters.timeUs(ctx, "to"),
        after(ctx, archive),
        limit);
  }

  /** Tables that have no end call it since. */
  private static Long from(Context ctx) {
    Long fromUs = QueryParameters.timeUs(ctx, "from");
    Long sinceUs = QueryParameters.timeUs(ctx, "since");
    if (fromUs != null && sinceUs != null) {
      throw QueryParameters.invalid("since", "since and from ask the same; leave one out.");
    }
    return fromUs == null ? sinceUs : fromUs;
  }

  private static String after(Context ctx, SoakArchive archive) {
    String id = QueryParameters.text(ctx, AFTER);
    if (id != null && archive.soak(id).isEmpty()) {
      throw QueryParameters.invalid(
          AFTER,
          "after=" + id + " names no soak (any more); list again from the beginning, without it.");
    }
    return id;
  }

  /** The address of the next page: this one with the place where it ended. */
  public static String next(Context ctx, String lastId) {
    return NextPage.of(ctx, lastId, OWN);
  }
}
