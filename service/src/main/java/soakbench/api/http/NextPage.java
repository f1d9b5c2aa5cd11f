package soakbench.api.http;

import io.javalin.http.Context;
import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.util.List;

/** Where a list goes on. */
public final class NextPage {
  /** What was the last of the page before. */
  public static final String AFTER = "after";

  private NextPage() {}

  /**
   * The address of the next page: this one with the place where it ended.
   *
   * @param last of this page
   * @param kept parameters that hold for the next page too, beside those of any table
   */
  public static String of(Context ctx, String last, List<String> kept) {
    StringBuilder address = new StringBuilder(ctx.path()).append('?').append(after(last));
    for (String name : Routes.ofTables(kept.toArray(String[]::new))) {
      String value = QueryParameters.text(ctx, name);
      if (value != null) {
        address.append('&').append(name).append('=').append(escaped(value));
      }
    }
    return address.toString();
  }

  /** The parameter that begins a page after what was the last of the one before. */
  public static String after(String last) {
    return AFTER + '=' + escaped(last);
  }

  private static String escaped(String text) {
    return URLEncoder.encode(text, StandardCharsets.UTF_8);
  }
}
