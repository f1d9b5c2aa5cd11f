package soakbench.api.sheet;

import java.util.Optional;
import java.util.function.Function;

/**
 * A table with one row a tracker, so that a tracker and a column name a cell.
 *
 * @param one the row of a tracker; empty where it has none now
 */
public record CellSource<T>(SheetTable<T> of, Function<String, Optional<T>> one) {}
