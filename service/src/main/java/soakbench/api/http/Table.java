package soakbench.api.http;

import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.databind.JsonSerializable;
import com.fasterxml.jackson.databind.SerializerProvider;
import com.fasterxml.jackson.databind.jsontype.TypeSerializer;
import io.javalin.http.Context;
import io.javalin.http.HandlerType;
import java.io.BufferedOutputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Consumer;
import java.util.function.Function;
import java.util.function.ObjIntConsumer;
import soakbench.model.Axes;
import soakbench.model.Estimate;

/**
 * Maps a record to JSON and CSV: names its members and columns, each with how it is read from the
 * record. So nothing is copied from one record into another to be shown, and header, cells and
 * members can't get out of step.
 */
public final class Table<T> {
  /** Larger than the smallest answer that is compressed: the first write decides about that. */
  private static final int BUFFER_BYTES = 1 << 16;

  private record Part<T>(String name, Function<T, ?> of) {}

  private final List<Part<T>> cells = new ArrayList<>();
  private final List<Part<T>> members = new ArrayList<>();

  /** Text, numbers, true and false, or words: in both. */
  public Table<T> column(String name, Function<T, ?> of) {
    return cell(name, of).member(name, of);
  }

  /** In the CSV only, as {@link #column}. */
  public Table<T> cell(String name, Function<T, ?> of) {
    cells.add(new Part<>(name, of));
    return this;
  }

  /** In the JSON only: anything that has a form there. */
  public Table<T> member(String name, Function<T, ?> of) {
    members.add(new Part<>(name, of));
    return this;
  }

  /** In the JSON only: a record that is answered by a table of its own; null stays null. */
  public <U> Table<T> member(String name, Function<T, U> of, Table<U> table) {
    return member(name, row -> table.json(of.apply(row)));
  }

  /** Adds parts for each of the three axes, by its name and its place in arrays. */
  public Table<T> eachAxis(ObjIntConsumer<String> add) {
    for (int axis = 0; axis < Axes.NAMES.size(); axis++) {
      add.accept(Axes.NAMES.get(axis), axis);
    }
    return this;
  }

  /** Times given in microseconds since 1970: in both. */
  public Table<T> time(String name, Function<T, Long> timeUs) {
    return cellTime(name, timeUs).memberTime(name, timeUs);
  }

  /** The same in the CSV only. */
  public Table<T> cellTime(String name, Function<T, Long> timeUs) {
    return cell(name, row -> text(timeUs.apply(row)));
  }

  /** The same in the JSON only. */
  public Table<T> memberTime(String name, Function<T, Long> timeUs) {
    return member(name, row -> text(timeUs.apply(row)));
  }

  private static String text(Long timeUs) {
    return timeUs == null ? null : Times.text(timeUs);
  }

  /** The figure, its standard error and its 95 % limits: one member, four columns. */
  public Table<T> estimate(String name, Function<T, Estimate> estimate) {
    return estimateCells(name, estimate).member(name, estimate);
  }

  /** The four columns alone. */
  public Table<T> estimateCells(String name, Function<T, Estimate> estimate) {
    return cell(name, part(estimate, Estimate::value))
        .cell(name + "_se", part(estimate, Estimate::se))
        .cell(name + "_low", part(estimate, Estimate::low))
        .cell(name + "_high", part(estimate, Estimate::high));
  }

  private static <T> Function<T, Double> part(
      Function<T, Estimate> estimate, Function<Estimate, Double> part) {
    return row -> {
      Estimate known = estimate.apply(row);
      return known == null ? null : part.apply(known);
    };
  }

  /** The names of the columns. */
  public List<String> names() {
    return cells.stream().map(Part::name).toList();
  }

  /** The row as a JSON object, read when it is written; null of null. */
  public JsonSerializable json(T row) {
    return row == null ? null : new Members(row);
  }

  /** The rows as JSON objects. */
  public List<JsonSerializable> json(Collection<? extends T> rows) {
    return rows.stream().map(row -> json((T) row)).toList();
  }

  private final class Members extends JsonSerializable.Base {
    private final T row;

    Members(T row) {
      this.row = row;
    }

    @Override
    public void serialize(JsonGenerator json, SerializerProvider provider) throws IOException {
      json.writeStartObject();
      for (Part<T> member : members) {
        json.writeFieldName(member.name());
        provider.defaultSerializeValue(member.of().apply(row), json);
      }
      json.writeEndObject();
    }

    @Override
    public void serializeWithType(
        JsonGenerator json, SerializerProvider provider, TypeSerializer type) throws IOException {
      serialize(json, provider);
    }
  }

  /** Answers with the rows: as CSV, or as {@code {<name>: [rows], next: null}}. */
  public void answer(Context ctx, ResponseFormat form, String name, Collection<? extends T> rows) {
    answer(ctx, form, name, rows, null, Map.of());
  }

  /**
   * Answers with a page of rows.
   *
   * @param next where the next page is, given in a header beside CSV; null where this is the last
   * @param more what else the JSON tells, behind the rows
   */
  public void answer(
      Context ctx,
      ResponseFormat form,
      String name,
      Collection<? extends T> rows,
      String next,
      Map<String, ?> more) {
    if (form == ResponseFormat.CSV) {
      if (next != null) {
        ctx.header("Link", "<" + next + ">; rel=\"next\"");
      }
      csv(ctx, rows::forEach);
      return;
    }
    Map<String, Object> page = new LinkedHashMap<>();
    page.put(name, json(rows));
    page.put("next", next);
    page.putAll(more);
    JsonResponses.json(ctx, page);
  }

  /** Answers with rows as they come as CSV; nothing is gathered in memory. */
  public void csv(Context ctx, Rows<T> rows) {
    CsvDialect dialect = CsvDialect.of(ctx);
    ctx.contentType("text/csv; charset=utf-8").header("Cache-Control", "no-store");
    try {
      if (ctx.method() == HandlerType.HEAD) {
        JsonResponses.headOfStream(ctx);
        return;
      }
      OutputStream out = new BufferedOutputStream(ctx.outputStream(), BUFFER_BYTES);
      SpreadsheetCsv csv = new SpreadsheetCsv(out, dialect);
      csv.header(names());
      rows.each(row -> csv.row(cells.stream().<Object>map(c -> c.of().apply(row)).toList()));
      csv.flush();
    } catch (IOException e) {
      throw new ClientDisconnectedException(e);
    }
  }

  /** The rows as CSV, with the decimal point. */
  public String csv(Collection<? extends T> rows) {
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    SpreadsheetCsv csv = new SpreadsheetCsv(out, CsvDialect.POINT);
    csv.header(names());
    for (T row : rows) {
      csv.row(cells.stream().<Object>map(c -> c.of().apply(row)).toList());
    }
    try {
      csv.flush();
    } catch (IOException e) {
      throw new UncheckedIOException("memory can't be written", e);
    }
    return out.toString(StandardCharsets.UTF_8);
  }

  /** Gives each row to a consumer, one after another. */
  public interface Rows<T> {
    void each(Consumer<T> row);
  }
}
