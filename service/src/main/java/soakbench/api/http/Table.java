package soakbench.api.http;

import io.javalin.http.Context;
import io.javalin.http.HandlerType;
import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;
import java.util.function.Function;
import soakbench.model.Estimate;

/**
 * The columns of a CSV answer, each with how its cell is read from a row, so that header and cells
 * can't get out of step.
 */
public final class Table<T> {
  /** Larger than the smallest answer that is compressed: the first write decides about that. */
  private static final int BUFFER_BYTES = 1 << 16;

  private record Column<T>(String name, Function<T, ?> cell) {}

  private final List<Column<T>> columns = new ArrayList<>();

  /** A column of text, numbers, true and false, or words. */
  public Table<T> column(String name, Function<T, ?> cell) {
    columns.add(new Column<>(name, cell));
    return this;
  }

  /** A column of times given in microseconds since 1970. */
  public Table<T> time(String name, Function<T, Long> timeUs) {
    return column(
        name,
        row -> {
          Long us = timeUs.apply(row);
          return us == null ? null : Times.text(us);
        });
  }

  /** Four columns: the figure, its standard error and its 95 % limits. */
  public Table<T> estimate(String name, Function<T, Estimate> estimate) {
    return column(name, part(estimate, Estimate::value))
        .column(name + "_se", part(estimate, Estimate::se))
        .column(name + "_low", part(estimate, Estimate::low))
        .column(name + "_high", part(estimate, Estimate::high));
  }

  private static <T> Function<T, Double> part(
      Function<T, Estimate> estimate, Function<Estimate, Double> part) {
    return row -> {
      Estimate known = estimate.apply(row);
      return known == null ? null : part.apply(known);
    };
  }

  public List<String> names() {
    return columns.stream().map(Column::name).toList();
  }

  /** Answers with the rows. */
  public void answer(Context ctx, Iterable<? extends T> rows) {
    answer(ctx, (Consumer<T> row) -> rows.forEach(row));
  }

  /** Answers with rows as they come; nothing is gathered in memory. */
  public void answer(Context ctx, Rows<T> rows) {
    CsvDialect dialect = CsvDialect.of(ctx);
    ctx.contentType("text/csv; charset=utf-8").header("Cache-Control", "no-store");
    try {
      if (ctx.method() == HandlerType.HEAD) {
        Answers.headOfStream(ctx);
        return;
      }
      OutputStream out = new BufferedOutputStream(ctx.outputStream(), BUFFER_BYTES);
      CsvOut csv = new CsvOut(out, dialect);
      csv.header(names());
      rows.each(row -> csv.row(columns.stream().<Object>map(c -> c.cell().apply(row)).toList()));
      csv.flush();
    } catch (IOException e) {
      throw new ClientLeftException(e);
    }
  }

  /** Gives each row to a consumer, one after another. */
  public interface Rows<T> {
    void each(Consumer<T> row);
  }
}
