package soakbench.api.figures;

import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.function.BiFunction;
import java.util.function.Function;
import java.util.stream.Collectors;
import soakbench.api.http.Column;
import soakbench.api.http.Table;
import soakbench.model.Axes;

/**
 * The figures of a table below each other instead of beside each other, one a row: the shape that
 * statistics programs and pivot tables want. A column is a figure where its name ends in a unit.
 */
public final class LongShape<T> {
  /** How the rows are answered. */
  public static final Table<Row> TABLE =
      new Table<Row>()
          .column("id", Row::id)
          .column("axis", Row::axis)
          .column("figure", Row::figure)
          .column("value", Row::value)
          .column("low", Row::low)
          .column("high", Row::high)
          .column("unit", Row::unit)
          .column("reason", Row::reason);

  /**
   * One figure of one thing.
   *
   * @param axis x, y or z; null where it is of no single one
   * @param figure its column's name without the axis
   * @param low lower 95 % limit; null without
   * @param high upper one
   * @param reason why it is not known; of a known one what to mind, or null
   */
  public record Row(
      Object id,
      String axis,
      String figure,
      Object value,
      Object low,
      Object high,
      String unit,
      String reason) {}

  private record Figure<T>(
      String axis, String name, String unit, Column<T> value, Column<T> low, Column<T> high) {}

  private final Column<T> id;
  private final List<Figure<T>> figures = new ArrayList<>();
  private final BiFunction<T, String, String> caution;

  /**
   * @param id the column that says what a row is about
   * @param caution what to mind of a known figure, by its name without the axis; null for nothing
   */
  public LongShape(Table<T> table, String id, BiFunction<T, String, String> caution) {
    Map<String, Column<T>> columns =
        table.columns().stream().collect(Collectors.toMap(Column::name, Function.identity()));
    this.id = columns.get(id);
    this.caution = caution;
    for (Column<T> column : table.columns()) {
      String unit = ColumnUnits.of(column.name());
      if (!unit.isEmpty() && !ColumnUnits.isPart(column.name())) {
        figures.add(figure(column, unit, columns));
      }
    }
  }

  private static <T> Figure<T> figure(
      Column<T> value, String unit, Map<String, Column<T>> columns) {
    String axis = Axes.NAMES.stream().filter(a -> named(value, a)).findFirst().orElse(null);
    String name = axis == null ? value.name() : value.name().replace("_" + axis + "_", "_");
    return new Figure<>(
        axis,
        name,
        unit,
        value,
        columns.get(value.name() + "_low"),
        columns.get(value.name() + "_high"));
  }

  private static boolean named(Column<?> column, String axis) {
    return column.name().contains("_" + axis + "_");
  }

  /** All figures of these rows. */
  public List<Row> rows(Collection<? extends T> rows) {
    List<Row> all = new ArrayList<>();
    for (T row : rows) {
      figures.forEach(figure -> all.add(row(row, figure)));
    }
    return all;
  }

  private Row row(T row, Figure<T> figure) {
    Object value = figure.value().of().apply(row);
    String reason =
        value == null ? figure.value().reason().apply(row) : caution.apply(row, figure.name());
    return new Row(
        id.of().apply(row),
        figure.axis(),
        figure.name(),
        value,
        part(figure.low(), row),
        part(figure.high(), row),
        figure.unit(),
        reason);
  }

  private static <T> Object part(Column<T> column, T row) {
    return column == null ? null : column.of().apply(row);
  }
}
