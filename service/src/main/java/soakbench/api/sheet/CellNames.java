package soakbench.api.sheet;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import soakbench.api.http.Column;
import soakbench.api.http.QueryParameters;
import soakbench.model.NearestName;

/**
 * The figures by name: each column of each table under its own name, and under that of its table
 * before it, {@code figures.bias_x_dps}. A name that several tables have is that of the first.
 */
public final class CellNames {
  private static final String FIGURE = "figure";

  private final Map<String, Cell<?>> cells = new LinkedHashMap<>();
  private final Map<String, Cell<?>> prefixed = new LinkedHashMap<>();

  public CellNames(List<CellSource<?>> sources) {
    sources.forEach(this::add);
  }

  private <T> void add(CellSource<T> source) {
    for (Column<T> column : source.of().table().columns()) {
      String full = source.of().name() + "." + column.name();
      prefixed.put(full, new Cell<>(full, source, column));
      String shortest = cells.containsKey(column.name()) ? full : column.name();
      cells.put(shortest, new Cell<>(shortest, source, column));
    }
  }

  /** All, each by its shortest name. */
  List<Cell<?>> all() {
    return List.copyOf(cells.values());
  }

  /**
   * The figure of this name.
   *
   * @throws soakbench.api.http.ProblemException 400 that names the nearest
   */
  Cell<?> find(String name) {
    Cell<?> cell = cells.get(name);
    Cell<?> found = cell == null ? prefixed.get(name) : cell;
    if (found == null) {
      String hint = NearestName.hint(name, cells.keySet());
      throw QueryParameters.invalid(
          FIGURE,
          "There is no figure \"" + name + "\"" + (hint.isEmpty() ? "; /sheet/ lists all." : hint));
    }
    return found;
  }
}
