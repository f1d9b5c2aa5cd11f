package soakbench.api.http;

import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.databind.JsonSerializable;
import com.fasterxml.jackson.databind.SerializerProvider;
import com.fasterxml.jackson.databind.jsontype.TypeSerializer;
import io.javalin.http.Context;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
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
 * Maps a record to JSON and to the cells of a spreadsheet: names its members and columns, each with
 * how it is read from the record. So nothing is copied from one record into another to be shown,
 * and header, cells and members can't get out of step.
 */
public final class Table<T> {
  private record Member<T>(String name, Function<T, ?> of) {}

  private final List<Column<T>> cells = new ArrayList<>();
  private final List<Member<T>> members = new ArrayList<>();

  /** Text, numbers, true and false, or words: in both. */
  public Table<T> column(String name, Function<T, ?> of) {
    return cell(name, of).member(name, of);
  }

  /** In the CSV only, as {@link #column}. */
  public Table<T> cell(String name, Function<T, ?> of) {
    return cell(name, of, row -> null);
  }

  /** The same with the reason why it is not known. */
  public Table<T> cell(String name, Function<T, ?> of, Function<T, String> reason) {
    cells.add(new Column<>(name, false, of, reason));
    return this;
  }

  /** In the JSON only: anything that has a form there. */
  public Table<T> member(String name, Function<T, ?> of) {
    members.add(new Member<>(name, of));
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
    cells.add(new Column<>(name, true, row -> Times.instant(timeUs.apply(row)), row -> null));
    return this;
  }

  /** The same in the JSON only. */
  public Table<T> memberTime(String name, Function<T, Long> timeUs) {
    return member(name, row -> Times.instant(timeUs.apply(row)));
  }

  /** The figure, its standard error and its 95 % limits: one member, four columns. */
  public Table<T> estimate(String name, Function<T, Estimate> estimate) {
    return estimateCells(name, estimate).member(name, estimate);
  }

  /** The four columns alone. */
  public Table<T> estimateCells(String name, Function<T, Estimate> estimate) {
    return part(name, estimate, Estimate::value)
        .part(name + "_se", estimate, Estimate::se)
        .part(name + "_low", estimate, Estimate::low)
        .part(name + "_high", estimate, Estimate::high);
  }

  private Table<T> part(String name, Function<T, Estimate> estimate, Function<Estimate, ?> part) {
    return cell(name, of(estimate, part), of(estimate, Estimate::reason));
  }

  private static <T, U> Function<T, U> of(
      Function<T, Estimate> estimate, Function<Estimate, U> part) {
    return row -> {
      Estimate known = estimate.apply(row);
      return known == null ? null : part.apply(known);
    };
  }

  /** The columns, in their order. */
  public List<Column<T>> columns() {
    return List.copyOf(cells);
  }

  /** The names of the columns. */
  public List<String> names() {
    return cells.stream().map(Column::name).toList();
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
      for (Member<T> member : members) {
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
      csv(ctx, rows);
      return;
    }
    Map<String, Object> page = new LinkedHashMap<>();
    page.put(name, json(rows));
    page.put("next", next);
    page.putAll(more);
    JsonResponses.json(ctx, page);
  }

  /** Answers with rows that are there as CSV. */
  public void csv(Context ctx, Collection<? extends T> rows) {
    CsvAnswer.whole(ctx, columns(), rows);
  }

  /** Answers with rows as they come as CSV; nothing is gathered in memory. */
  public void csv(Context ctx, Rows<T> rows) {
    CsvAnswer.asTheyCome(ctx, columns(), rows::each);
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
