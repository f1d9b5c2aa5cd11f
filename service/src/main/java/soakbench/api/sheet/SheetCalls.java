package soakbench.api.sheet;

import io.javalin.http.Context;
import io.javalin.http.HandlerType;
import java.io.IOException;
import java.io.OutputStream;
import java.net.URI;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import soakbench.api.figures.ColumnUnits;
import soakbench.api.http.ClientDisconnectedException;
import soakbench.api.http.Column;
import soakbench.api.http.CsvDialect;
import soakbench.api.http.JsonResponses;
import soakbench.api.http.QueryParameters;
import soakbench.api.http.Routes;
import soakbench.api.http.TrackerFilter;
import soakbench.model.NearestName;

/** Workbooks, and what there is to pull. */
public final class SheetCalls {
  private static final String WORKBOOK =
      "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet";

  private static final String TABLES = "tables";
  private static final String TRACKER = "tracker";

  private final List<SheetTable<?>> tables;
  private final CellNames cells;
  private final SheetTrackers trackers;

  public SheetCalls(List<SheetTable<?>> tables, CellNames cells, SheetTrackers trackers) {
    this.tables = tables;
    this.cells = cells;
    this.trackers = trackers;
  }

  public void addTo(Routes routes) {
    routes
        .json("/api/sheet", this::listed, TRACKER)
        .get(
            "/sheet/tables.xlsx",
            this::workbook,
            TABLES,
            "zone",
            TrackerFilter.LOT,
            TrackerFilter.RACK,
            TrackerFilter.SINCE)
        .get("/sheet/live.xlsx", this::live, TrackerFilter.LOT, TrackerFilter.RACK);
  }

  /**
   * What can be pulled.
   *
   * @param tracker whose figures are shown; null where none is listed or heard
   */
  record Listed(
      String tracker, List<String> ids, List<ListedTable> sheets, List<ListedCell> cells) {}

  /**
   * A table.
   *
   * @param rowIs what a row is
   */
  record ListedTable(String sheet, String path, String rowIs, List<ListedColumn> headings) {}

  record ListedColumn(String heading, String unit) {}

  /**
   * A cell.
   *
   * @param shown what it has now; empty where it is not known
   * @param reason why it is not known; null where nobody says
   */
  record ListedCell(String cell, String sheet, String unit, String shown, String reason) {}

  private Listed listed(Context ctx) {
    List<String> ids = trackers.all(new TrackerFilter(null, null, null));
    String asked = QueryParameters.text(ctx, TRACKER);
    String tracker = asked == null ? first(ids) : asked;
    return new Listed(
        tracker,
        ids,
        tables.stream().map(SheetCalls::listed).toList(),
        tracker == null
            ? List.of()
            : cells.all().stream().map(cell -> listed(cell, tracker)).toList());
  }

  /** One that tells something: heard before listed. */
  private String first(List<String> ids) {
    return ids.stream()
        .filter(trackers::isHeard)
        .findFirst()
        .orElse(ids.isEmpty() ? null : ids.get(0));
  }

  private static ListedTable listed(SheetTable<?> table) {
    List<ListedColumn> columns = new ArrayList<>();
    for (Column<?> column : table.table().columns()) {
      columns.add(new ListedColumn(column.name(), ColumnUnits.of(column.name())));
    }
    return new ListedTable(table.name(), table.address(), table.row(), columns);
  }

  private static ListedCell listed(Cell<?> cell, String tracker) {
    Cell.Found found = cell.of(tracker);
    return new ListedCell(
        cell.name(),
        cell.source().of().name(),
        ColumnUnits.of(cell.column().name()),
        new CellForm(CsvDialect.POINT, "").text(found),
        found.reason());
  }

  private void workbook(Context ctx) {
    List<SheetTable<?>> chosen = chosen(ctx);
    TableWorkbook book = new TableWorkbook(TrackerFilter.of(ctx), CsvDialect.zone(ctx));
    send(ctx, "tables.xlsx", out -> book.write(out, chosen));
  }

  private List<SheetTable<?>> chosen(Context ctx) {
    String asked = QueryParameters.text(ctx, TABLES);
    if (asked == null) {
      return tables;
    }
    return Arrays.stream(asked.split(",", -1)).distinct().<SheetTable<?>>map(this::table).toList();
  }

  private SheetTable<?> table(String name) {
    List<String> known = tables.stream().<String>map(SheetTable::name).toList();
    return tables.stream()
        .filter(t -> t.name().equals(name))
        .findFirst()
        .orElseThrow(
            () ->
                QueryParameters.invalid(
                    TABLES, "There is no table \"%s\"%s".formatted(name, hint(name, known))));
  }

  private static String hint(String name, List<String> known) {
    String hint = NearestName.hint(name, known);
    return hint.isEmpty() ? "; there are " + String.join(", ", known) + "." : hint;
  }

  private void live(Context ctx) {
    List<String> ids = trackers.all(TrackerFilter.of(ctx));
    URI service = URI.create(ctx.scheme() + "://" + ctx.host());
    send(ctx, "live.xlsx", out -> LiveWorkbook.write(out, service, ids));
  }

  private interface Writing {
    void to(OutputStream out) throws IOException;
  }

  private static void send(Context ctx, String file, Writing writing) {
    ctx.contentType(WORKBOOK)
        .header("Cache-Control", "no-store")
        .header("Content-Disposition", "attachment; filename=\"soakbench-" + file + "\"");
    try {
      if (ctx.method() == HandlerType.HEAD) {
        JsonResponses.headOfStream(ctx);
      } else {
        // Not packed: it is a packed file already.
        writing.to(ctx.res().getOutputStream());
      }
    } catch (IOException e) {
      throw new ClientDisconnectedException(e);
    }
  }
}
