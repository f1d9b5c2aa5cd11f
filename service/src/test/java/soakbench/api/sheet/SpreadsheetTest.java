package soakbench.api.sheet;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.condition.EnabledIf;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import soakbench.api.Lines;
import soakbench.api.Service;
import soakbench.api.sheet.LibreOffice.Input;
import soakbench.api.sheet.SheetCells.TypedCell;
import soakbench.api.soaks.SoakTest;

/** A real spreadsheet reads this service, in a language with decimal points and in one without. */
@ExtendWith(Service.Running.class)
@EnabledIf(
    value = "soakbench.api.sheet.LibreOffice#isThere",
    disabledReason = "LibreOffice is not there")
class SpreadsheetTest {
  private static final String ID = "Calc-1";
  private static final String COLUMNS =
      "&columns=tracker,name,since,temperature_c,bias_y_dps,still_met,ready_at_expected";

  private enum Language {
    ENGLISH("en-US", "", "44"),
    GERMAN("de-DE", "&decimal=comma&truth=number", "59");

    private final String locale;
    private final String dialect;

    /** Character, quote, UTF-8, from line 1, the program's language, special numbers detected. */
    private final String options;

    Language(String locale, String dialect, String separator) {
      this.locale = locale;
      this.dialect = dialect;
      this.options = separator + ",34,76,1,,0,false,true";
    }
  }

  @TempDir private Path folder;

  @ParameterizedTest
  @EnumSource(Language.class)
  void numbersDatesAndTruthArriveRightFromTablesWorkbooksAndLiveCells(
      Language language, Service service) throws Exception {
    service.http.send("PUT", "/api/trackers", "text/csv", "id,name,lot\nCalc-1,=1+1,Calc\n");
    SoakTest.send(service, Lines.warmUp(ID, Service.START_US, 300, 2));
    String table = "/api/readiness.csv?lot=Calc&dates=local&zone=UTC" + COLUMNS;
    Input csv = input(service, table + language.dialect, "table.csv", language.options);
    Input live = input(service, "/sheet/live.xlsx?lot=Calc", "live.xlsx", "");
    Input book =
        input(service, "/sheet/tables.xlsx?lot=Calc&zone=UTC&tables=readiness", "book.xlsx", "");
    List<Input> inputs = new ArrayList<>(List.of(csv, live, book));
    Input points =
        input(
            service,
            table + "&separator=semicolon",
            "points.csv",
            "59" + language.options.substring(2));
    inputs.add(points);
    LibreOffice.convert(folder, language.locale, inputs);

    String temperature = service.http.get("/sheet/cell/Calc-1/temperature_c").body();
    String bias = service.http.get("/sheet/cell/Calc-1/bias_y_dps").body();
    assertThat(Double.parseDouble(bias)).as("a negative number").isNegative();
    SheetCells imported = SheetCells.read(csv.saved());
    SheetCells typed = SheetCells.read(book.saved());
    for (SheetCells cells : List.of(imported, typed)) {
      assertNumber(cells.at(ID, "temperature_c"), temperature);
      assertNumber(cells.at(ID, "bias_y_dps"), bias);
      assertThat(cells.at(ID, "since").type()).isEqualTo("date");
      assertThat(cells.at(ID, "since").value()).startsWith("2026-03-01T08:0");
      assertThat(cells.at(ID, "name").type()).isEqualTo("string");
      assertThat(cells.at(ID, "name").value()).contains("=1+1");
      assertThat(cells.at(ID, "ready_at_expected").type()).isIn("", "date");
    }
    assertThat(typed.at(ID, "still_met")).isEqualTo(new TypedCell("boolean", "true"));
    assertThat(imported.at(ID, "still_met"))
        .isEqualTo(
            language == Language.GERMAN
                ? new TypedCell("float", "1")
                : new TypedCell("boolean", "true"));
    assertLive(SheetCells.read(live.saved()), service, temperature, bias);
    if (language == Language.GERMAN) {
      assertThat(SheetCells.read(points.saved()).at(ID, "temperature_c").type())
          .as("a decimal point is no thousands' point without a word: it stays text")
          .isEqualTo("string");
    }
  }

  private static void assertLive(
      SheetCells cells, Service service, String temperature, String bias) {
    assertNumber(cells.at(ID, "temperature, degC"), temperature);
    assertNumber(cells.at(ID, "bias y now, deg/s"), bias);
    assertThat(cells.at(ID, "state"))
        .isEqualTo(new TypedCell("string", service.http.get("/sheet/cell/Calc-1/state").body()));
    assertThat(cells.at(ID, "name").value()).isEqualTo("'=1+1");
    assertThat(cells.at(ID, "rate left by it, deg/min").value()).isEqualTo(LiveWorkbook.NONE);
  }

  private static void assertNumber(TypedCell cell, String expected) {
    assertThat(cell.type()).as(cell.value()).isEqualTo("float");
    assertThat(Double.parseDouble(cell.value())).isEqualTo(Double.parseDouble(expected));
  }

  private Input input(Service service, String path, String name, String options)
      throws IOException, InterruptedException {
    Path file = folder.resolve(name);
    byte[] body =
        java.net.http.HttpClient.newHttpClient()
            .send(service.http.request(path).GET().build(), BodyHandlers.ofByteArray())
            .body();
    return new Input(Files.write(file, body), options);
  }
}
