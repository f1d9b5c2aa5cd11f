package soakbench.api.http;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Test;
import soakbench.Drawn;
import soakbench.model.State;

class SpreadsheetCsvTest {
  private static String point(Object value) {
    return SpreadsheetCsv.cell(value, CsvDialect.POINT);
  }

  private static String comma(Object value) {
    return SpreadsheetCsv.cell(value, CsvDialect.COMMA);
  }

  @Test
  void numbersHaveAtLeastFiveDecimalsAndNoExponent() {
    assertThat(point(25.375)).isEqualTo("25.37500");
    assertThat(point(-0.012)).isEqualTo("-0.01200");
    assertThat(point(0.0)).isEqualTo("0.00000");
    assertThat(point(-0.0)).isEqualTo("0.00000");
    assertThat(point(1.25e-9)).isEqualTo("0.00000000125");
    assertThat(point(1e12)).isEqualTo("1000000000000.00000");
    assertThat(point(24.31f)).isEqualTo("24.31000");
    assertThat(point(0.0000123f)).isEqualTo("0.0000123");
    assertThat(comma(-0.012)).isEqualTo("-0,01200");
  }

  @Test
  void countsStayWholeAndWhatIsNotKnownIsEmpty() {
    assertThat(point(17L)).isEqualTo("17");
    assertThat(point(3)).isEqualTo("3");
    assertThat(point(true)).isEqualTo("true");
    assertThat(point(State.READY)).isEqualTo("ready");
    assertThat(point(null)).isEmpty();
    assertThat(point(Double.NaN)).isEmpty();
    assertThat(point(Float.POSITIVE_INFINITY)).isEmpty();
  }

  @Test
  void textThatWouldRunAsAFormulaIsKeptFromIt() {
    for (String text : List.of("=1+1", "+1", "-1", "@a", "\tx", "\rx")) {
      assertThat(point(text)).isEqualTo("'" + text);
    }
    assertThat(point("T-0412")).isEqualTo("T-0412");
    assertThat(point("'tis")).isEqualTo("'tis");
  }

  @Test
  void whatIsGuardedComesBackAsItWas() {
    Drawn.cases(2000, drawn -> comesBack(drawn.text()));
  }

  private static void comesBack(String text) {
    // Text that looks guarded already can't be told from text that was; it is no name of a thing.
    if (SpreadsheetCsv.unguarded(text).equals(text)) {
      assertThat(SpreadsheetCsv.unguarded(SpreadsheetCsv.guarded(text))).isEqualTo(text);
    }
  }

  @Test
  void singlePrecisionSurvivesTheWayThroughText() {
    Drawn.cases(2000, drawn -> survives(drawn.anyFloat()));
  }

  private void survives(float value) {
    String cell = point(value);
    assertThat(Float.parseFloat(cell)).isEqualTo(value);
    assertThat(cell.substring(cell.indexOf('.') + 1)).hasSizeGreaterThanOrEqualTo(5);
  }

  @Test
  void linesEndInCarriageReturnAndLineFeedAndCellsAreQuotedWhereNeeded() throws IOException {
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    SpreadsheetCsv csv = new SpreadsheetCsv(out, CsvDialect.COMMA);
    csv.header(List.of("a", "b"));
    csv.row(Arrays.asList("x;\"y\"", 1.5));
    csv.flush();
    assertThat(out.toString(StandardCharsets.UTF_8))
        .isEqualTo("a;b\r\n\"x;\"\"y\"\"\";1,50000\r\n");
  }
}
