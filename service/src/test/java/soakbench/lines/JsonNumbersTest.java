package soakbench.lines;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import soakbench.lines.Rejection.Kind;

/** Numbers, texts and names of JSON by the grammar of RFC 8259, sections 4, 6 and 7. */
class JsonNumbersTest {
  private final JsonLineForm form = new JsonLineForm();

  private LineResult parse(String line) {
    byte[] bytes = line.getBytes(UTF_8);
    return form.parse(bytes, 0, bytes.length);
  }

  private Reading reading(String line) {
    assertThat(parse(line)).as(line).isInstanceOf(Reading.class);
    return (Reading) parse(line);
  }

  /** number = [ minus ] int [ frac ] [ exp ]: each optional part there and not there. */
  @ParameterizedTest
  @CsvSource({
    "0, 0",
    "-0, 0",
    "7, 7",
    "-7, -7",
    "2.50, 2.5",
    "1e2, 100",
    "1E2, 100",
    "1e+2, 100",
    "1250e-2, 12.5",
    "-0.5e1, -5",
    "0.0000000000000000000000000000001e32, 10",
    "24.31000000000000000000000000000000001, 24.31"
  })
  void aNumberOfTheGrammarIsTaken(String number, float expected) {
    float taken = reading("{\"temp_c\":" + number + "}").temperatureC();
    assertThat(taken + 0f).isEqualTo(expected);
  }

  /** Section 6: leading zeros, a bare point, a plus, hexadecimal are none. */
  @ParameterizedTest
  @ValueSource(strings = {"024", "24.", ".5", "+5", "0x18", "1e", "- 5", "1_000", "1e2.5", "--1"})
  void anyOtherIsMalformed(String number) {
    LineResult answer = parse("{\"temp_c\":" + number + "}");
    assertThat(answer).as(number).isInstanceOf(Rejection.class);
    assertThat(((Rejection) answer).kind()).isEqualTo(Kind.MALFORMED);
  }

  /** Section 7: any character may be escaped as \\uXXXX. */
  @Test
  void escapedNamesAndTextsAreTheSameAsPlainOnes() {
    Reading reading = reading("{\"\\u0069d\":\"T\\u002D1\",\"temp\\u005fc\":20.5}");
    assertThat(reading.id()).isEqualTo("T-1");
    assertThat(reading.temperatureC()).isEqualTo(20.5f);
  }

  /** Section 2: white space before or after any of the structural characters. */
  @Test
  void whiteSpaceMayStandBetweenAnyTwoTokens() {
    assertThat(reading(" { \t\"id\" : \"T-1\" ,\r \"gyro_dps\" : [ 1 , 2 , 3 ] } ").hasRates())
        .isTrue();
  }

  /** Section 4: what names that are not unique mean is left open; here the last counts. */
  @Test
  void ofANameThatComesTwiceTheLastCounts() {
    assertThat(reading("{\"temp_c\":20,\"temp_c\":21}").temperatureC()).isEqualTo(21f);
  }

  @Test
  void anIdMayBeABareWholeNumberAndNothingElse() {
    assertThat(reading("{\"id\":412,\"temp_c\":20}").id()).isEqualTo("412");
    for (String id : new String[] {"4.5", "true", "[1]", "{}"}) {
      assertThat(((Rejection) parse("{\"id\":" + id + ",\"temp_c\":20}")).reason())
          .isEqualTo("id must be text");
    }
  }

  @Test
  void aHeldTemperatureIsTrueOrFalse() {
    assertThat(reading("{\"temp_c\":20,\"temp_held\":true}").temperatureHeld()).isTrue();
    assertThat(reading("{\"temp_c\":20,\"temp_held\":false}").temperatureHeld()).isFalse();
    assertThat(reading("{\"temp_c\":20,\"temp_held\":null}").temperatureHeld()).isNull();
    assertThat(((Rejection) parse("{\"temp_c\":20,\"temp_held\":1}")).reason())
        .isEqualTo("temp_held must be true or false");
  }
}
