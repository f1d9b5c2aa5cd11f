package soakbench.api.roster;

import de.siegmar.fastcsv.reader.CsvParseException;
import de.siegmar.fastcsv.reader.CsvReader;
import de.siegmar.fastcsv.reader.CsvRecord;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.Function;
import soakbench.api.http.Problem;
import soakbench.api.http.Problem.Item;
import soakbench.api.http.ProblemException;
import soakbench.api.http.SpreadsheetCsv;
import soakbench.model.Tracker;

/**
 * Reads a roster as a spreadsheet saves it: a header line, columns in any order, commas, semicolons
 * or tabs between cells, with or without a byte order mark. Finds every mistake, not only the
 * first. A column that is not there leaves what the roster has.
 */
final class RosterCsv {
  private static final int MOST_LISTED = 500;

  private final Function<String, Tracker> present;
  private final List<Item> problems = new ArrayList<>();
  private final Set<String> ids = new HashSet<>();

  private RosterCsv(Function<String, Tracker> present) {
    this.present = present;
  }

  /**
   * The trackers that the file lists, in its order.
   *
   * @param present what the roster has for an id; a tracker of which only the id is known where it
   *     has nothing
   * @throws ProblemException 422 with every mistake by line and column, if there is any
   */
  static List<Tracker> read(byte[] file, Function<String, Tracker> present) {
    RosterCsv roster = new RosterCsv(present);
    List<Tracker> trackers = roster.read(text(file));
    if (!roster.problems.isEmpty()) {
      throw roster.refusal();
    }
    return trackers;
  }

  private ProblemException refusal() {
    int count = problems.size();
    String listed = count > MOST_LISTED ? "; the first " + MOST_LISTED + " are listed" : "";
    return new ProblemException(
        Problem.Kind.INVALID_CONTENT,
        "The roster has "
            + (count == 1 ? "1 mistake" : count + " mistakes")
            + listed
            + "; nothing was written. Mend the listed cells and send the file again.",
        problems.subList(0, Math.min(count, MOST_LISTED)));
  }

  private static String text(byte[] file) {
    try {
      String text = StandardCharsets.UTF_8.newDecoder().decode(ByteBuffer.wrap(file)).toString();
      return text.startsWith("\uFEFF") ? text.substring(1) : text;
    } catch (CharacterCodingException e) {
      throw new ProblemException(
          Problem.Kind.INVALID_CONTENT,
          "The roster is not in UTF-8. Save it as \"CSV UTF-8\" and send it again.");
    }
  }

  private List<Tracker> read(String text) {
    List<Tracker> trackers = new ArrayList<>();
    char separator = separator(text);
    try (CsvReader<CsvRecord> csv =
        CsvReader.builder()
            .fieldSeparator(separator)
            .allowExtraFields(true)
            .allowMissingFields(true)
            .ofCsvRecord(text)) {
      List<String> header = null;
      for (CsvRecord row : csv) {
        if (header == null) {
          header = header(row);
        } else if (row.getFields().stream().anyMatch(cell -> !cell.isBlank())) {
          Tracker tracker = tracker(header, row, separator == ';');
          if (tracker != null) {
            trackers.add(tracker);
          }
        }
      }
      requireRows(header, trackers);
    } catch (CsvParseException | IOException e) {
      problems.add(Item.of(null, "The file is no CSV: " + e.getMessage()));
    }
    return trackers;
  }

  private void requireRows(List<String> header, List<Tracker> trackers) {
    if (header == null || (trackers.isEmpty() && problems.isEmpty())) {
      problems.add(
          Item.of(
              null,
              "The roster lists no tracker. It needs a header line with at least the column id,"
                  + " and a line for each tracker."));
    }
  }

  private static char separator(String text) {
    int end = text.indexOf('\n');
    String header = end < 0 ? text : text.substring(0, end);
    if (header.indexOf(',') >= 0) {
      return ',';
    }
    return header.indexOf(';') >= 0 ? ';' : header.indexOf('\t') >= 0 ? '\t' : ',';
  }

  private List<String> header(CsvRecord row) {
    List<String> names = new ArrayList<>();
    for (String cell : row.getFields()) {
      String name = cell.strip();
      if (!name.isEmpty() && !TrackerFields.NAMES.contains(name)) {
        problem(row, name, TrackerFields.unknown("Column", name));
      } else if (!name.isEmpty() && names.contains(name)) {
        problem(row, name, "Column \"" + name + "\" is there twice; keep one.");
      }
      names.add(name);
    }
    if (!names.contains(TrackerFields.ID)) {
      problem(row, TrackerFields.ID, "The column id is missing; it says which tracker a line is.");
    }
    return names;
  }

  private Tracker tracker(List<String> header, CsvRecord row, boolean decimalComma) {
    Map<String, String> cells = new HashMap<>();
    for (int i = 0; i < row.getFieldCount(); i++) {
      if (i < header.size()) {
        cells.put(header.get(i), SpreadsheetCsv.unguarded(row.getField(i).strip()));
      } else if (!row.getField(i).isBlank()) {
        problem(
            row,
            null,
            "Cell " + (i + 1) + " has no column above it; the header names " + header.size() + ".");
      }
    }
    String id = cells.getOrDefault(TrackerFields.ID, "");
    if (!Tracker.isId(id)) {
      if (header.contains(TrackerFields.ID)) {
        problem(row, TrackerFields.ID, TrackerFields.badId(id));
      }
      return null;
    }
    if (!ids.add(id)) {
      problem(row, TrackerFields.ID, id + " is listed twice; keep one of its lines.");
    }
    TrackerFields fields = new TrackerFields(present.apply(id));
    cells.forEach((name, cell) -> set(fields, row, name, cell, decimalComma));
    return fields.tracker();
  }

  private void set(
      TrackerFields fields, CsvRecord row, String name, String cell, boolean decimalComma) {
    if (name.equals(TrackerFields.ID) || !TrackerFields.NAMES.contains(name)) {
      return;
    }
    boolean number = decimalComma && name.equals(TrackerFields.TEMPERATURE_OFFSET_C);
    fields
        .set(name, number ? cell.replace(',', '.') : cell)
        .ifPresent(reason -> problem(row, name, reason));
  }

  private void problem(CsvRecord row, String column, String reason) {
    problems.add(new Item(row.getStartingLineNumber(), column, reason));
  }
}
