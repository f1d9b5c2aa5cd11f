package soakbench.api.http;

import io.javalin.config.RoutesConfig;
import io.javalin.http.Handler;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;

/**
 * Adds routes so that HEAD answers what GET would without the body and OPTIONS names what an
 * address takes: some spreadsheets ask both before they fetch.
 */
public final class Routes {
  /** Whether the service is well; asked by anyone, at any time. */
  public static final String HEALTH = "/health";

  /** The stream of events; its clients have an allowance of their own. */
  public static final String EVENTS = "/api/events";

  private final RoutesConfig config;
  private final Map<String, StringBuilder> methods = new LinkedHashMap<>();

  public Routes(RoutesConfig config) {
    this.config = config;
  }

  /**
   * An address that is read.
   *
   * @param parameters what may be asked of it; one that looks like one of them misspelt is refused
   */
  public Routes get(String path, Handler handler, String... parameters) {
    Handler checked = checked(handler, parameters);
    config.get(path, checked);
    config.head(path, checked);
    note(path, "GET, HEAD");
    return this;
  }

  /** A table: under its own address by what the client accepts, and with {@code .csv} as CSV. */
  public Routes table(String path, Handler handler, String... parameters) {
    String[] all = Arrays.copyOf(parameters, parameters.length + 1);
    all[parameters.length] = CsvDialect.PARAMETER;
    return get(path, handler, all).get(path + ".csv", handler, all);
  }

  public Routes put(String path, Handler handler, String... parameters) {
    config.put(path, checked(handler, parameters));
    note(path, "PUT");
    return this;
  }

  public Routes post(String path, Handler handler, String... parameters) {
    config.post(path, checked(handler, parameters));
    note(path, "POST");
    return this;
  }

  public Routes delete(String path, Handler handler) {
    config.delete(path, handler);
    note(path, "DELETE");
    return this;
  }

  /** Call once, after all others. */
  public void addOptions() {
    methods.forEach(
        (path, taken) -> {
          String allow = taken + ", OPTIONS";
          config.options(path, ctx -> ctx.status(204).header("Allow", allow));
        });
  }

  private Handler checked(Handler handler, String... parameters) {
    if (parameters.length == 0) {
      return handler;
    }
    Set<String> known = new TreeSet<>(List.of(parameters));
    return ctx -> {
      Queries.refuseMisspelt(ctx, known);
      handler.handle(ctx);
    };
  }

  private void note(String path, String method) {
    StringBuilder taken = methods.computeIfAbsent(path, p -> new StringBuilder());
    taken.append(taken.isEmpty() ? "" : ", ").append(method);
  }
}
