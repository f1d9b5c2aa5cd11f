package soakbench.api.sheet;

import java.util.List;
import java.util.function.Function;
import soakbench.api.http.Table;
import soakbench.api.http.TrackerFilter;

/**
 * A table that spreadsheets read.
 *
 * @param name of its sheet, and of its figures where several tables have one
 * @param address of its CSV
 * @param row what a row is, "a tracker"
 * @param rows those that pass a filter
 */
public record SheetTable<T>(
    String name,
    String address,
    String row,
    Table<T> table,
    Function<TrackerFilter, List<T>> rows) {}
