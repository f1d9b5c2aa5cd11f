package soakbench.api.sheet;

import de.siegmar.fastcsv.writer.CsvWriter;
import de.siegmar.fastcsv.writer.LineDelimiter;
import io.javalin.http.Context;
import java.io.StringWriter;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Collectors;
import soakbench.api.http.Problem;
import soakbench.api.http.ProblemException;
import soakbench.api.http.QueryParameters;
import soakbench.api.http.Routes;
import soakbench.api.http.TrackerFilter;

/**
 * Figures for the cells of a spreadsheet: one number or word and nothing else, not even a line end,
 * or a block of them.
 */
public final class CellCalls {
  private static final String TEXT = "text/plain;charset=utf-8";
  private static final String TRACKERS = "trackers";
  private static final String FIGURES = "figures";
  private static final int MOST_CELLS = 20_000;

  private final CellNames names;
  private final SheetTrackers trackers;

  /**
   * @param names which figures there are
   * @param trackers which trackers
   */
  public CellCalls(CellNames names, SheetTrackers trackers) {
    this.names = names;
    this.trackers = trackers;
  }

  public void addTo(Routes routes) {
    routes
        .get(Routes.CELL + "/{tracker}/{figure}", this::one, CellForm.parameters())
        .get(
            Routes.CELLS,
            this::block,
            CellForm.parameters(FIGURES, TRACKERS, TrackerFilter.LOT, TrackerFilter.RACK));
  }

  private void one(Context ctx) {
    CellForm form = CellForm.of(ctx);
    Cell<?> cell = names.find(ctx.pathParam("figure"));
    String id = ctx.pathParam("tracker");
    if (!trackers.has(id)) {
      throw new ProblemException(Problem.Kind.UNKNOWN_TRACKER, "There is no tracker " + id + ".");
    }
    answer(ctx, form.text(cell.of(id)));
  }

  private void block(Context ctx) {
    CellForm form = CellForm.of(ctx);
    List<Cell<?>> cells = figures(ctx);
    List<String> ids = ids(ctx);
    if ((long) ids.size() * cells.size() > MOST_CELLS) {
      throw QueryParameters.invalid(
          TRACKERS,
          "%d trackers times %d figures are more than %d cells; ask for fewer, or for a table."
              .formatted(ids.size(), cells.size(), MOST_CELLS));
    }
    List<List<String>> lines =
        ids.stream()
            .map(id -> cells.stream().map(cell -> form.text(found(cell, id))).toList())
            .toList();
    answer(ctx, cells.size() == 1 ? column(lines) : table(lines, form.dialect().separator()));
  }

  private static String column(List<List<String>> lines) {
    return lines.stream().map(line -> line.get(0)).collect(Collectors.joining("\n"));
  }

  private static String table(List<List<String>> lines, char separator) {
    StringWriter text = new StringWriter();
    CsvWriter csv =
        CsvWriter.builder()
            .fieldSeparator(separator)
            .lineDelimiter(LineDelimiter.LF)
            .bufferSize(0)
            .build(text);
    lines.forEach(csv::writeRecord);
    // Without the last line's end, as a cell has none.
    String all = text.toString();
    return all.isEmpty() ? all : all.substring(0, all.length() - 1);
  }

  /** One that is not there must not take the others' lines away. */
  private Cell.Found found(Cell<?> cell, String id) {
    return trackers.has(id) ? cell.of(id) : new Cell.Found(null, "there is no tracker " + id);
  }

  private List<Cell<?>> figures(Context ctx) {
    String asked = QueryParameters.text(ctx, FIGURES);
    if (asked == null) {
      throw QueryParameters.invalid(
          FIGURES, "figures is missing: name one or more, as figures=state,temperature_c.");
    }
    return Arrays.stream(asked.split(",", -1)).<Cell<?>>map(names::find).toList();
  }

  private List<String> ids(Context ctx) {
    TrackerFilter which = TrackerFilter.of(ctx);
    String asked = QueryParameters.text(ctx, TRACKERS);
    if (asked == null) {
      return trackers.all(which).stream().sorted().toList();
    }
    if (which.lot() != null || which.rack() != null) {
      throw QueryParameters.invalid(TRACKERS, "trackers excludes lot and rack; leave one out.");
    }
    return List.of(asked.split(",", -1));
  }

  private static void answer(Context ctx, String text) {
    ctx.header("Cache-Control", "no-store").result(text).contentType(TEXT);
  }
}
