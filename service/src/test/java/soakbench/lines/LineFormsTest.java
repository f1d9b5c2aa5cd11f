package soakbench.lines;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.time.Instant;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import soakbench.lines.LineResult.Note;
import soakbench.lines.Rejection.Kind;

class LineFormsTest {
  private final LineParser parser = new LineParser();

  private LineResult parse(String line) {
    byte[] bytes = ("##" + line + "##").getBytes(UTF_8);
    return parser.parse(bytes, 2, bytes.length - 4);
  }

  private Reading reading(String line) {
    LineResult answer = parse(line);
    assertThat(answer).as(line).isInstanceOf(Reading.class);
    return (Reading) answer;
  }

  private Rejection rejection(String line) {
    LineResult answer = parse(line);
    assertThat(answer).as(line).isInstanceOf(Rejection.class);
    return (Rejection) answer;
  }

  @Test
  void aJsonLineGivesAllThatItSays() {
    Reading r =
        reading(
            "{\"id\":\"T-0412\",\"time\":\"2026-01-31T12:00:00.123456Z\",\"seq\":12,\"t_ms\":60000,"
                + "\"temp_c\":24.31,\"gyro_dps\":[0.31,-0.12,0.05],\"accel_g\":[0.0,0.0,1.0]}");
    long timeUs = Instant.parse("2026-01-31T12:00:00Z").getEpochSecond() * 1_000_000 + 123456;
    assertThat(r)
        .isEqualTo(
            new Reading(
                "T-0412",
                new Reading.Stamps(timeUs, Reading.NO_TIME, 12, 60000, null),
                new Reading.Channels(24.31f, 0.31f, -0.12f, 0.05f, 0f, 0f, 1f)));
  }

  @Test
  void aCsvRowSaysTheSameAsTheJsonLine() {
    Reading json =
        reading(
            "{\"id\":\"T-0412\",\"arrival\":\"2026-01-31T13:00:00.5+01:00\",\"seq\":12,"
                + "\"t_ms\":4294967295,\"temp_c\":-3.5e0,\"gyro_dps\":[0.31,-0.12,0.05],"
                + "\"accel_g\":[0.1,-0.2,1.0]}");
    assertThat(parse("az_g,id,arrival,gy_dps,gx_dps,gz_dps,seq,t_ms,temp_c,ax_g,ay_g"))
        .isEqualTo(Note.HEADER);
    assertThat(
            reading(
                "1.0,T-0412,2026-01-31T12:00:00.500Z,-0.12,0.31,0.05,12,4294967295,-3.5,0.1,-0.2"))
        .isEqualTo(json);
  }

  @Test
  void radiansAndMetresPerSecondSquaredAreConverted() {
    Reading json =
        reading("{\"gyro_rads\":[0.5,-0.5,1],\"accel_ms2\":[9.80665,0,-19.6133],\"id\":7}");
    assertThat(json.id()).isEqualTo("7");
    assertThat(json.channels().gxDps()).isCloseTo(28.64789f, within(1e-5f));
    assertThat(json.channels().azG()).isEqualTo(-2f);
    assertThat(parse("id,gx_rads,gy_rads,gz_rads,ax_ms2,ay_ms2,az_ms2")).isEqualTo(Note.HEADER);
    assertThat(reading("7,0.5,-0.5,1,9.80665,0,-19.6133")).isEqualTo(json);
  }

  @Test
  void unknownColumnsAndKeysArePassedOver() {
    parse("volts,t_ms,note,temp_c");
    assertThat(reading("3.9,5,\"all well\",21.5").temperatureC()).isEqualTo(21.5f);
    assertThat(reading("{\"extra\":{\"temp_c\":[1,{}]},\"temp_c\":21.5,\"x\":null}").temperatureC())
        .isEqualTo(21.5f);
  }

  @Test
  void emptyFieldsAndNullsAreLacking() {
    parse("id,temp_c,gx_dps,gy_dps,gz_dps");
    assertThat(reading(",21.5,,,").hasRates()).isFalse();
    assertThat(reading("T-1,,1,2,3").hasTemperature()).isFalse();
    assertThat(reading("{\"id\":null,\"temp_c\":null,\"gyro_dps\":[1,2,3]}").hasTemperature())
        .isFalse();
  }

  @Test
  void aNewHeaderReplacesTheOld() {
    parse("t_ms,temp_c");
    assertThat(reading("21,22").temperatureC()).isEqualTo(22f);
    parse("temp_c,t_ms");
    assertThat(reading("21,22").temperatureC()).isEqualTo(21f);
    assertThat(reading("{\"temp_c\":30}").temperatureC()).isEqualTo(30f);
    assertThat(reading("23,22").temperatureC()).isEqualTo(23f);
  }

  @Test
  void chatterBetweenRowsDisturbsNothing() {
    assertThat(rejection("[0;32mI (31) boot: chip rev 3, 4 MB flash[0m").kind())
        .isEqualTo(Kind.CHATTER);
    parse("id,t_ms,temp_c");
    for (String chatter :
        new String[] {
          "[INFO ] battery 3.87 V, 71 %", "{}", "t=24.1 ok", "rst:0x1 (POWERON), boot:0x13", "�x�@�"
        }) {
      assertThat(rejection(chatter).kind()).as(chatter).isEqualTo(Kind.CHATTER);
    }
    assertThat(parse("  \t")).isEqualTo(Note.BLANK);
    assertThat(reading("T-1,5,20.5").temperatureC()).isEqualTo(20.5f);
  }

  @Test
  void aByteOrderMarkAndBlanksBeforeALineAreLeftOut() {
    assertThat(parse("\uFEFFt_ms,temp_c")).isEqualTo(Note.HEADER);
    assertThat(reading(" 5 , 20.5 \r").temperatureC()).isEqualTo(20.5f);
    assertThat(reading("  {\"temp_c\":20.5}\r").temperatureC()).isEqualTo(20.5f);
  }

  @Test
  void rowsWithoutAHeaderSaySo() {
    assertThat(rejection("5,20.5,0.1,0.2,0.3").kind()).isEqualTo(Kind.NO_HEADER);
    parser.presetHeader("t_ms,temp_c,gx_dps,gy_dps,gz_dps");
    assertThat(reading("5,20.5,0.1,0.2,0.3").channels().gzDps()).isEqualTo(0.3f);
    assertThatThrownBy(() -> parser.presetHeader("a,b"))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("\"a,b\"");
  }

  @Test
  void aHalfHeaderDoesNotTakeTheColumnsAway() {
    parse("id,t_ms,temp_c");
    reading("T-1,5,20.5");
    assertThat(parse("id,t_ms,te")).isEqualTo(Note.HEADER);
    assertThat(parse("id,t_ms")).isEqualTo(Note.HEADER);
    assertThat(parse("[INFO ] battery low")).isInstanceOf(Rejection.class);
    assertThat(reading("T-1,6,20.75").temperatureC()).isEqualTo(20.75f);
    parse("id,temp_c");
    assertThat(reading("T-1,21.5").temperatureC()).isEqualTo(21.5f);
    assertThat(rejection("T-1,8,20.5").kind()).isEqualTo(Kind.MALFORMED);
  }

  @Test
  void cutJsonIsAHalfLineWhereverItIsCut() {
    String whole = "{\"id\":\"T-1\",\"seq\":5,\"temp_c\":20.5,\"gyro_dps\":[0.1,0.2,0.3]}";
    for (int length = 1; length < whole.length(); length++) {
      assertThat(rejection(whole.substring(0, length)).kind()).isEqualTo(Kind.HALF_LINE);
    }
  }

  @Test
  void aCutRowIsAHalfLineOnceItHasAComma() {
    parse("id,time,seq,temp_c");
    assertThat(rejection("T-1,2026-01-31T12:00:00Z,5").kind()).isEqualTo(Kind.HALF_LINE);
    assertThat(rejection("T-1,2026-01").kind()).isEqualTo(Kind.HALF_LINE);
    assertThat(rejection("T-1,2026-01-31T12:00:00Z,5,20.5,T-1").kind()).isEqualTo(Kind.MALFORMED);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      quoteCharacter = '`',
      value = {
        "{\"temp_c\":125.01} | ABSURD_VALUE | temp_c is 125.01 degC, outside -40 to 125 degC",
        "{\"temp_c\":-40.1} | ABSURD_VALUE | temp_c is -40.1 degC, outside -40 to 125 degC",
        "{\"gyro_dps\":[0,0,4000.5]} | ABSURD_VALUE | gz_dps is 4000.5 deg/s, outside -4000 to",
        "{\"temp_c\":1,\"accel_g\":[0,65,0]} | ABSURD_VALUE | ay_g is 65.0 g, outside -64 to 64 g",
        "{\"temp_c\":1e999} | ABSURD_VALUE | temp_c is Infinity degC",
        "{\"temp_c\":1,\"t_ms\":4294967296} | ABSURD_VALUE | outside 0 to 4294967295",
        "{\"temp_c\":1,\"seq\":-1} | ABSURD_VALUE | seq is -1",
        "{\"temp_c\":NaN} | ABSURD_VALUE | temp_c is NaN degC",
        "{\"gyro_dps\":[0,-Infinity,0]} | ABSURD_VALUE | gy_dps is -Infinity deg/s",
        "{\"temp_c\":nan} | MALFORMED | not JSON at character",
        "{\"temp_c\":\"hot\"} | MALFORMED | temp_c must be a number",
        "{\"temp_c\":1}x | HALF_LINE | closing brace",
        "{\"temp_c\":1}{\"temp_c\":1} | MALFORMED | more text after",
        "{\"gyro_dps\":[0,0]} | MALFORMED | gyro_dps has 2 values instead of 3",
        "{\"gyro_dps\":[0,0,0,0]} | MALFORMED | gyro_dps has 4 values instead of 3",
        "{\"gyro_dps\":[0,0,null]} | MALFORMED | 2 of 3 axes of rates",
        "{\"gyro_dps\":5} | MALFORMED | gyro_dps must be three numbers",
        "{\"id\":\"T 1\",\"temp_c\":1} | BAD_ID | id \"T 1\" is no id",
        "{\"id\":\"\u00e9\",\"temp_c\":1} | BAD_ID | 1 to 64 letters",
        "{\"time\":\"yesterday noon\",\"temp_c\":1} | BAD_TIME | time \"yesterday noon\"",
        "{\"time\":1767225600,\"temp_c\":1} | BAD_TIME | time must be text",
        "{\"time\":\"1999-12-31T23:59:59Z\",\"temp_c\":1} | BAD_TIME | between 2000 and 2100",
        "{\"time\":\"2100-01-01T00:00:00Z\",\"temp_c\":1} | BAD_TIME | between 2000 and 2100",
        "{\"arrival\":\"2026-02-30T00:00:00Z\",\"temp_c\":1} | BAD_TIME | arrival",
        "{\"id\":\"T-1\",\"seq\":5} | NO_CHANNELS | neither a temperature nor rates",
        "{\"status\":\"ok\"} | CHATTER | without any known key",
      })
  void whatIsWrongWithAJsonLineIsSaid(String line, Kind kind, String reason) {
    Rejection rejection = rejection(line);
    assertThat(rejection.kind()).as(rejection.reason()).isEqualTo(kind);
    assertThat(rejection.reason()).contains(reason);
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "\"yesterday noon\"",
        "1767225600",
        "\"0001-01-01T00:00:00Z\"",
        "\"1970-01-01T00:00:00Z\"",
        "\"+300000-01-01T00:00:00Z\""
      })
  void whatALineSaysBesideAnImpossibleTimeIsStillKnown(String time) {
    Rejection rejection =
        rejection("{\"time\":" + time + ",\"id\":\"T-1\",\"t_ms\":60000,\"temp_c\":70.5}");
    assertThat(rejection.kind()).isEqualTo(Kind.BAD_TIME);
    assertThat(rejection.untimed())
        .isEqualTo(reading("{\"id\":\"T-1\",\"t_ms\":60000,\"temp_c\":70.5}"));
    assertThat(rejection("{\"time\":" + time + ",\"temp_c\":999}").untimed()).isNull();
  }

  @ParameterizedTest
  @ValueSource(strings = {"nan", "NaN", "inf", "-inf", "-Inf"})
  void aRowThatSaysNotANumberIsAbsurd(String value) {
    parse("t_ms,temp_c");
    assertThat(rejection("5," + value).kind()).isEqualTo(Kind.ABSURD_VALUE);
  }

  @ParameterizedTest
  @ValueSource(strings = {"1-2", "..5", "0x10", "1d", "twenty", "2 5", "--1"})
  void aRowWithoutANumberWhereOneBelongsIsMalformed(String value) {
    parse("t_ms,temp_c");
    assertThat(rejection("5," + value).reason())
        .isEqualTo("temp_c \"" + value + "\" is not a number");
  }

  @Test
  void valuesAtTheEdgesAreTaken() {
    reading("{\"temp_c\":-40,\"gyro_dps\":[-4000,4000,0],\"accel_g\":[-64,64,0]}");
    reading("{\"temp_c\":125,\"t_ms\":0,\"seq\":0,\"time\":\"2000-01-01T00:00:00Z\"}");
    reading("{\"temp_c\":1,\"time\":\"2099-12-31 23:59:59.999999z\"}");
    reading("{\"temp_c\":1,\"id\":\"" + "x".repeat(64) + "\"}");
    assertThat(rejection("{\"temp_c\":1,\"id\":\"" + "x".repeat(65) + "\"}").kind())
        .isEqualTo(Kind.BAD_ID);
  }
}
