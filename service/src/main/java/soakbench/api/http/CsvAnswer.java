package soakbench.api.http;

import io.javalin.http.Context;
import io.javalin.http.HandlerType;
import java.io.BufferedOutputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.util.List;
import java.util.function.Consumer;

/** Answers with a table as CSV, as a file that has the name of its address. */
final class CsvAnswer {
  /** Larger than the smallest answer that is compressed: the first write decides about that. */
  private static final int BUFFER_BYTES = 1 << 16;

  private static final String TYPE = "text/csv; charset=utf-8";
  private static final String NO_STORE = "no-store";

  private CsvAnswer() {}

  /** Rows that are there: with a tag, by which a client that has them already is told so. */
  static <T> void whole(Context ctx, List<Column<T>> all, Iterable<? extends T> rows) {
    CsvDialect dialect = CsvDialect.of(ctx);
    List<Column<T>> columns = ColumnChoice.of(ctx, dialect, all);
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    try {
      write(out, dialect, columns, rows::forEach);
    } catch (IOException e) {
      throw new UncheckedIOException("memory takes whatever is written", e);
    }
    head(ctx);
    ctx.header("Cache-Control", NO_STORE);
    if (!EntityTag.isKept(ctx, out.toByteArray())) {
      ctx.result(out.toByteArray());
    }
  }

  /** Rows as they come; nothing is gathered in memory. */
  static <T> void asTheyCome(Context ctx, List<Column<T>> all, Consumer<Consumer<T>> rows) {
    CsvDialect dialect = CsvDialect.of(ctx);
    List<Column<T>> columns = ColumnChoice.of(ctx, dialect, all);
    head(ctx);
    if (ctx.res().getHeader("Cache-Control") == null) {
      ctx.header("Cache-Control", NO_STORE);
    }
    try {
      if (ctx.method() == HandlerType.HEAD) {
        JsonResponses.headOfStream(ctx);
        return;
      }
      write(new BufferedOutputStream(ctx.outputStream(), BUFFER_BYTES), dialect, columns, rows);
    } catch (IOException e) {
      throw new ClientDisconnectedException(e);
    }
  }

  private static <T> void write(
      OutputStream out, CsvDialect dialect, List<Column<T>> columns, Consumer<Consumer<T>> rows)
      throws IOException {
    SpreadsheetCsv csv = new SpreadsheetCsv(out, dialect);
    csv.header(columns.stream().map(Column::name).toList());
    rows.accept(row -> csv.row(columns.stream().<Object>map(c -> c.of().apply(row)).toList()));
    csv.flush();
  }

  private static void head(Context ctx) {
    ctx.contentType(TYPE);
    ctx.header("Content-Disposition", "attachment; filename=\"" + fileName(ctx.path()) + "\"");
  }

  /** {@code /api/soaks/T-1@x/bins.csv} becomes {@code soaks-T-1-x-bins.csv}. */
  static String fileName(String path) {
    String plain = path.replaceFirst("^/api/", "").replaceFirst("\\.csv$", "");
    return plain.replaceAll("[^A-Za-z0-9._-]+", "-") + ".csv";
  }
}
