package soakbench.api.sheet;

import java.io.IOException;
import java.io.OutputStream;
import java.net.URI;
import java.util.List;
import org.dhatim.fastexcel.Workbook;
import org.dhatim.fastexcel.Worksheet;

/**
 * A workbook whose cells ask the service: a row for each tracker, its id in the first column. Ids
 * and the service's address are typed in; the formulas are right in every language.
 */
public final class LiveWorkbook {
  /** Rows that have formulas, with an id or without. */
  private static final int LEAST_ROWS = 24;

  private static final int FIRST_ROW = 5;
  private static final String SERVICE = "$B$1";

  /** What a number's cell shows where the service has none, or does not answer. */
  static final String NONE = "?";

  /**
   * A column.
   *
   * @param head what it is, with its unit
   * @param figure named as for a cell's address
   * @param number whether the figure is a number
   */
  record Live(String head, String figure, boolean number) {}

  static final List<Live> COLUMNS =
      List.of(
          new Live("name", "name", false),
          new Live("state", "state", false),
          new Live("temperature, degC", "temperature_c", true),
          new Live("minutes to ready", "minutes_to_ready", true),
          new Live("next step", "next_step", false),
          new Live("bias x now, deg/s", "bias_x_dps", true),
          new Live("bias y now, deg/s", "bias_y_dps", true),
          new Live("bias z now, deg/s", "bias_z_dps", true),
          new Live("greatest coefficient, deg/s per degC", "greatest_tempco_dps_per_c", true),
          new Live("heading error in use, deg/min", "deg_per_min", true),
          new Live("newest check", "check_verdict", false),
          new Live("rate left by it, deg/min", "check_deg_per_min", true));

  private LiveWorkbook() {}

  /**
   * Writes it.
   *
   * @param service its address, as the spreadsheet's computer reaches it
   * @param trackers ids of the first rows
   */
  public static void write(OutputStream out, URI service, List<String> trackers)
      throws IOException {
    try (Workbook book = new Workbook(out, TableWorkbook.PROGRAM, TableWorkbook.VERSION)) {
      Worksheet sheet = book.newWorksheet("Trackers");
      head(sheet, service.toString().replaceFirst("/$", ""));
      for (int i = 0; i < Math.max(LEAST_ROWS, trackers.size()); i++) {
        if (i < trackers.size()) {
          sheet.value(FIRST_ROW + i, 0, trackers.get(i));
        }
        for (int j = 0; j < COLUMNS.size(); j++) {
          // The library writes a formula as it is given.
          sheet.formula(FIRST_ROW + i, j + 1, formula(FIRST_ROW + i + 1, j).replace("&", "&amp;"));
        }
      }
      sheet.finish();
    }
  }

  private static void head(Worksheet sheet, String service) {
    sheet.value(0, 0, "service");
    sheet.value(0, 1, service);
    sheet.value(
        1,
        0,
        "Type the service's address above and ids into column A. \""
            + NONE
            + "\" is not known, or no answer.");
    sheet.value(
        2, 0, "Recalculate to ask again. A spreadsheet asks only where it may update links.");
    sheet.value(FIRST_ROW - 1, 0, "tracker");
    for (int j = 0; j < COLUMNS.size(); j++) {
      sheet.value(FIRST_ROW - 1, j + 1, COLUMNS.get(j).head());
    }
    sheet
        .range(FIRST_ROW - 1, 0, FIRST_ROW - 1, COLUMNS.size())
        .style()
        .bold()
        .wrapText(true)
        .set();
    sheet.style(0, 1).bold().set();
    sheet.freezePane(1, FIRST_ROW);
    for (int j = 0; j <= COLUMNS.size(); j++) {
      sheet.width(j, 16);
    }
  }

  /** Names of functions that came after the file format have a prefix in it. */
  private static String formula(int row, int column) {
    Live live = COLUMNS.get(column);
    String id = "$A" + row;
    String asked =
        "_xlfn.WEBSERVICE(%s&\"/sheet/cell/\"&%s&\"/%s?unknown=%s\")"
            .formatted(SERVICE, id, live.figure(), live.number() ? "none" : "");
    String value = live.number() ? "_xlfn.NUMBERVALUE(" + asked + ",\".\")" : asked;
    return "IF(%s=\"\",\"\",IFERROR(%s,\"%s\"))".formatted(id, value, NONE);
  }
}
