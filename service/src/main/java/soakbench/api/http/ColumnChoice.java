package soakbench.api.http;

import io.javalin.http.Context;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import java.util.stream.Collectors;
import soakbench.model.NearestName;

/** Which columns of a table a request asks for, in its order. */
final class ColumnChoice {
  static final String PARAMETER = "columns";

  private static final String ZONE = "zone";

  private ColumnChoice() {}

  /**
   * The columns that {@code columns=a,b} names; without it all of them. Where dates are told in a
   * zone, a column {@code zone} after the others says in which.
   *
   * @throws ProblemException 400 that lists every name that is not known, each with the nearest
   */
  static <T> List<Column<T>> of(Context ctx, CsvDialect dialect, List<Column<T>> all) {
    List<Column<T>> known = withZone(dialect.dates(), all);
    String asked = QueryParameters.text(ctx, PARAMETER);
    return asked == null ? known : named(List.of(asked.split(",", -1)), known);
  }

  private static <T> List<Column<T>> withZone(ZoneId zone, List<Column<T>> all) {
    if (zone == null || all.stream().noneMatch(Column::time)) {
      return all;
    }
    List<Column<T>> more = new ArrayList<>(all);
    more.add(new Column<>(ZONE, row -> zone.getId()));
    return more;
  }

  private static <T> List<Column<T>> named(List<String> names, List<Column<T>> known) {
    Map<String, Column<T>> byName =
        known.stream().collect(Collectors.toMap(Column::name, Function.identity()));
    List<Column<T>> chosen = new ArrayList<>();
    List<Problem.Item> problems = new ArrayList<>();
    for (String name : names) {
      Column<T> column = byName.get(name);
      if (column == null) {
        problems.add(Problem.Item.of(PARAMETER, unknown(name, byName)));
      } else if (chosen.contains(column)) {
        problems.add(Problem.Item.of(PARAMETER, "columns names \"" + name + "\" twice; keep one."));
      } else {
        chosen.add(column);
      }
    }
    if (!problems.isEmpty()) {
      throw new ProblemException(Problem.Kind.INVALID_REQUEST, problems.get(0).reason(), problems);
    }
    return chosen;
  }

  private static <T> String unknown(String name, Map<String, Column<T>> known) {
    String hint = NearestName.hint(name, known.keySet());
    return "There is no column \""
        + name
        + "\""
        + (hint.isEmpty() ? "; the first line of the table without columns= names all." : hint);
  }
}
