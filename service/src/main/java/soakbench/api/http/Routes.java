package soakbench.api.http;

import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import io.javalin.http.Handler;
import java.util.ArrayList;
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

  /** Single figures for the cells of spreadsheets, which come many at once. */
  public static final String CELL = "/sheet/cell";

  /** Blocks of them. */
  public static final String CELLS = "/sheet/cells";

  private final RoutesConfig config;
  private final Map<String, StringBuilder> methods = new LinkedHashMap<>();

  public Routes(RoutesConfig config) {
    this.config = config;
  }

  /** Answers with a table in the form that the client wants. */
  public interface TableHandler {
    void handle(Context ctx, ResponseFormat form);
  }

  /** What is answered as JSON. */
  public interface Answer {
    Object to(Context ctx);
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
  public Routes table(String path, TableHandler handler, String... parameters) {
    String[] known = ofTables(parameters);
    Handler asWanted = ctx -> handler.handle(ctx, form(ctx));
    return get(path, asWanted, known).get(path + ".csv", asWanted, known);
  }

  /** What may be asked of a table beside its own parameters. */
  public static String[] ofTables(String... own) {
    List<String> all = new ArrayList<>(List.of(own));
    all.add(ColumnChoice.PARAMETER);
    all.addAll(CsvDialect.PARAMETERS);
    return all.toArray(String[]::new);
  }

  /**
   * The form in which the client wants a table.
   *
   * @throws ProblemException 406 if it accepts none, 400 for a choice of columns of JSON
   */
  public static ResponseFormat form(Context ctx) {
    ResponseFormat form = ResponseFormat.wanted(ctx);
    if (form == ResponseFormat.JSON && ctx.queryParam(ColumnChoice.PARAMETER) != null) {
      throw QueryParameters.invalid(
          ColumnChoice.PARAMETER,
          "columns chooses those of a CSV table; ask for " + ctx.path() + ".csv, or leave it out.");
    }
    return form;
  }

  /** An address that is read as JSON, and as nothing else. */
  public Routes json(String path, Answer answer, String... parameters) {
    return get(path, json(answer), parameters);
  }

  /** The same of one that takes something. */
  public static Handler json(Answer answer) {
    return ctx -> {
      ResponseFormat.requireJson(ctx);
      JsonResponses.json(ctx, answer.to(ctx));
    };
  }

  public Routes put(String path, Handler handler, String... parameters) {
    config.put(path, checked(handler, parameters));
    note(path, "PUT");
    return this;
  }

  public Routes patch(String path, Handler handler) {
    config.patch(path, handler);
    note(path, "PATCH");
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
      QueryParameters.refuseMisspelt(ctx, known);
      handler.handle(ctx);
    };
  }

  private void note(String path, String method) {
    StringBuilder taken = methods.computeIfAbsent(path, p -> new StringBuilder());
    taken.append(taken.isEmpty() ? "" : ", ").append(method);
  }
}
