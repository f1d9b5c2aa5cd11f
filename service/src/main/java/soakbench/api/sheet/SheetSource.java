package soakbench.api.sheet;

import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import soakbench.api.http.Table;
import soakbench.api.http.TrackerFilter;

/**
 * A table that spreadsheets read, whole or cell by cell.
 *
 * @param name as in its address
 * @param rows those that pass a filter
 * @param one the row of a tracker; empty where it has none now
 */
public record SheetSource<T>(
    String name,
    Table<T> table,
    Function<TrackerFilter, List<T>> rows,
    Function<String, Optional<T>> one) {}
