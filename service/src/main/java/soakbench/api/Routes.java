package soakbench.api;

import io.javalin.config.RoutesConfig;
import io.javalin.http.Handler;
import java.util.LinkedHashMap;
import java.util.Map;

/**
 * Adds routes so that HEAD answers what GET would without the body and OPTIONS names what an
 * address takes: some spreadsheets ask both before they fetch.
 */
final class Routes {
  private final RoutesConfig config;
  private final Map<String, StringBuilder> methods = new LinkedHashMap<>();

  Routes(RoutesConfig config) {
    this.config = config;
  }

  Routes get(String path, Handler handler) {
    config.get(path, handler);
    config.head(path, handler);
    note(path, "GET, HEAD");
    return this;
  }

  /** A table: under its own address by what the client accepts, and with {@code .csv} as CSV. */
  Routes table(String path, Handler handler) {
    return get(path, handler).get(path + ".csv", handler);
  }

  Routes put(String path, Handler handler) {
    config.put(path, handler);
    note(path, "PUT");
    return this;
  }

  Routes post(String path, Handler handler) {
    config.post(path, handler);
    note(path, "POST");
    return this;
  }

  Routes delete(String path, Handler handler) {
    config.delete(path, handler);
    note(path, "DELETE");
    return this;
  }

  /** Call once, after all others. */
  void addOptions() {
    methods.forEach(
        (path, taken) -> {
          String allow = taken + ", OPTIONS";
          config.options(path, ctx -> ctx.status(204).header("Allow", allow));
        });
  }

  private void note(String path, String method) {
    StringBuilder taken = methods.computeIfAbsent(path, p -> new StringBuilder());
    taken.append(taken.isEmpty() ? "" : ", ").append(method);
  }
}
