package soakbench.lines;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import soakbench.lines.Rejection.Kind;

/** A line form of the user's own. */
class PatternFormTest {
  static final String PATTERN =
      "^#(?<seq>[0-9]+) @(?<t_ms>[0-9]+) T=(?<temp_c>[-0-9.]+)"
          + " G=(?<gx_dps>[-0-9.]+)/(?<gy_dps>[-0-9.]+)/(?<gz_dps>[-0-9.]+)"
          + "( A=(?<ax_g>[-0-9.]+)/(?<ay_g>[-0-9.]+)/(?<az_g>[-0-9.]+))?$";

  private static LineResult parse(PatternSpec spec, String line) {
    byte[] bytes = line.getBytes(UTF_8);
    return new LineParser(spec).parse(bytes, 0, bytes.length);
  }

  private static PatternSpec spec(String pattern) {
    return new PatternSpec(pattern, Map.of(), Map.of());
  }

  @Test
  void aMatchingLineSaysWhatTheEqualJsonLineSays() {
    LineResult json =
        parse(
            null,
            "{\"seq\":12,\"t_ms\":60000,\"temp_c\":24.31,\"gyro_dps\":[0.31,-0.12,0.05],"
                + "\"accel_g\":[0.0,0.01,1.0]}");
    LineResult own = parse(spec(PATTERN), "#12 @60000 T=24.31 G=0.31/-0.12/0.05 A=0.0/0.01/1.0");
    assertThat(own).isEqualTo(json).isInstanceOf(Reading.class);
    assertThat(parse(spec(PATTERN), "#12 @60000 T=24.31 G=0.31/-0.12/0.05"))
        .isInstanceOf(Reading.class);
  }

  @Test
  void rawCountsBecomeUnitsByScaleAndOffset() {
    PatternSpec raw =
        new PatternSpec(
            "raw (?<temp_c>-?[0-9]+) (?<gx_dps>-?[0-9]+) (?<gy_dps>-?[0-9]+) (?<gz_dps>-?[0-9]+)"
                + " (?<t_ms>[0-9.]+)s",
            Map.of("temp_c", 0.0078125, "gx_dps", 0.0625, "gy_dps", 0.0625, "t_ms", 1000.0),
            Map.of("temp_c", 23.0, "gy_dps", -1.0));
    Reading r = (Reading) parse(raw, "raw 256 16 -32 3 12.5s");
    assertThat(r.temperatureC()).isEqualTo(25.0f);
    assertThat(r.channels().gxDps()).isEqualTo(1.0f);
    assertThat(r.channels().gyDps()).isEqualTo(-3.0f);
    assertThat(r.channels().gzDps()).isEqualTo(3.0f);
    assertThat(r.tMs()).isEqualTo(12500);
  }

  @Test
  void temperatureAndRatesMayComeOnLinesOfTheirOwn() {
    PatternSpec either =
        spec("temp (?<temp_c>[0-9.]+)|rate (?<gx_dps>.+);(?<gy_dps>.+);(?<gz_dps>.+)");
    assertThat(((Reading) parse(either, "temp 24.5")).hasRates()).isFalse();
    assertThat(((Reading) parse(either, "rate 0.1;0.2;0.3")).hasTemperature()).isFalse();
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "boot: radio up|CHATTER",
        "{\"temp_c\":24.3}|CHATTER",
        "#1 @2 T=400 G=0/0/0|ABSURD_VALUE",
        "#1 @99999999999 T=24 G=0/0/0|ABSURD_VALUE",
        "#1 @2 T=2-4.5 G=0/0/0|MALFORMED",
        "#1 @2 T=. G=0/0/0|MALFORMED",
      })
  void whatTheOtherFormsRejectIsRejectedHereToo(String line, Kind kind) {
    assertThat(parse(spec(PATTERN), line))
        .isInstanceOfSatisfying(Rejection.class, r -> assertThat(r.kind()).isEqualTo(kind));
  }

  @Test
  void anIdOfTheLineIsCheckedLikeEveryId() {
    PatternSpec named = spec("(?<id>[^ ]+) (?<temp_c>[0-9.]+)");
    assertThat(((Reading) parse(named, "T-0412 24.5")).id()).isEqualTo("T-0412");
    assertThat(((Rejection) parse(named, "T/0412 24.5")).kind()).isEqualTo(Kind.BAD_ID);
  }

  @Test
  void theFirstLineHeardIsNotBelievedAsItsBeginningMayBeMissing() {
    LineCounters counters = new LineCounters();
    LineReader reader = new LineReader(counters, r -> null, spec("(?<temp_c>[0-9.]+) degrees"));
    reader.interrupted();
    byte[] lines = "4.31 degrees\n24.31 degrees\n".getBytes(UTF_8);
    reader.feed(lines, 0, lines.length);
    assertThat(counters.snapshot().of(Kind.HALF_LINE)).isEqualTo(1);
    assertThat(counters.snapshot().readings()).isEqualTo(1);
    assertThat(reader.form()).isEqualTo("pattern");
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "(?<tmp_c>.+)|group \"tmp_c\" is no column; did you mean \"temp_c\"?",
        "(?<id>.+)|no group is a temperature or rates",
        "T=(?<temp_c>.+|the pattern can't be read: missing closing ) (near \"T=(?<temp_c>.+\")",
        "T=(?<temp_c>.+))|the pattern can't be read: a ) has no (; RE2's",
        "(?<temp_c>.+)(?=x)|(near \"(?=\"); RE2's expressions don't look ahead or behind",
        "(?<temp_c>.+)(?<!x)|(near \"(?<!x)\"); RE2's expressions don't look ahead or behind",
        "(?<temp_c>(.)+)\\\\2|(near \"\\\\2\"); RE2's expressions don't look ahead or behind, nor"
            + " refer",
        "((((((?<temp_c>.{99}){99}){99}){99}){99}){99})|counted repeats make it too large",
      })
  void aPatternThatCanNotBeUsedIsRefusedWithTheReason(String pattern, String reason) {
    assertThatThrownBy(() -> spec(pattern.replace("\\\\", "\\")))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining(reason.replace("\\\\", "\\"));
  }

  @Test
  void everythingThatIsWrongIsToldAtOnce() {
    assertThatThrownBy(
            () -> new PatternSpec("(?<tempc>.+)", Map.of("temp_c", 0.0), Map.of("gx_dps", 1.0)))
        .hasMessageContaining("group \"tempc\" is no column")
        .hasMessageContaining("no group is a temperature or rates")
        .hasMessageContaining("scale \"temp_c\" is for no group")
        .hasMessageContaining("offset \"gx_dps\" is for no group")
        .hasMessageContaining("a scale of 0 makes every reading the same");
  }

  @Test
  void aLongPatternIsRefused() {
    String tooLong = "x".repeat(PatternSpec.LONGEST) + "(?<temp_c>.+)";
    assertThatThrownBy(() -> spec(tooLong)).hasMessageContaining("characters, at most 1000");
  }

  /**
   * Patterns that take a backtracking matcher time exponential in the line (Cox, 2007, "Regular
   * Expression Matching Can Be Simple And Fast": a?^n a^n, and nested stars). Here steps grow with
   * the line's length only; a matcher that backtracks would not end within the test.
   */
  @ParameterizedTest
  @ValueSource(
      strings = {
        "^(a+)+(?<temp_c>[0-9]+)$",
        "^(a|aa)+(?<temp_c>[0-9]+)$",
        "^(a|a?)+(?<temp_c>[0-9]+)$",
        "^(.*a){20}(?<temp_c>[0-9]+)$",
        "^(a?){30}a{30}(?<temp_c>[0-9]+)$"
      })
  void noPatternRunsAway(String pattern) {
    String line = "a".repeat(LineSplitter.LONGEST_LINE - 1) + "!";
    assertThat(parse(spec(pattern), line)).isInstanceOf(Rejection.class);
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "(?<temp_c>a{900}[])]){900}",
        "(?<temp_c>(a{30}){30}){30}",
        "(?<temp_c>a{1000}b{1000}c{1000})",
        "(?<temp_c>a{900}\\Q)\\E){900}",
        "(?<temp_c>(a{900})\\Q\\E{900})"
      })
  void noBracketsOrQuotesHideThatAPatternIsTooLarge(String pattern) {
    assertThatThrownBy(() -> spec(pattern)).hasMessageContaining("too large");
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "^[0-9]{4}-[0-9]{2}-[0-9]{2} (?<temp_c>-?[0-9]{1,3}\\.[0-9]{1,2})$",
        "(([0-9a-f]{2}:){5}[0-9a-f]{2}) (?<temp_c>[0-9]{1,5})(,[0-9]{1,5}){0,6}"
      })
  void patternsThatPeopleWriteAreNotTooLarge(String pattern) {
    assertThat(spec(pattern).pattern()).isEqualTo(pattern);
  }

  @Test
  void twoLinesRunTogetherAreNoLine() {
    PatternSpec open = spec("T=(?<temp_c>[0-9.]+) w");
    assertThat(parse(open, "T=24T=25.5 w"))
        .isInstanceOfSatisfying(
            Rejection.class,
            r -> assertThat(r.reason()).startsWith("the pattern fits a part of the line only"));
    assertThat(parse(open, "T=25.5 w")).isInstanceOf(Reading.class);
  }

  @ParameterizedTest
  @ValueSource(strings = {"nan", "NaN", "inf", "-inf"})
  void whatSaysThatItIsNoNumberIsAbsurdAsInTheOtherForms(String none) {
    assertThat(
            ((Rejection) parse(spec("it is (?<temp_c>.+) degC"), "it is " + none + " degC")).kind())
        .isEqualTo(Kind.ABSURD_VALUE);
  }

  @Test
  void aLineMayGiveItsRatesInEitherUnit() {
    String three = "(?<gx_%1$s>\\S+) (?<gy_%1$s>\\S+) (?<gz_%1$s>\\S+) %1$s";
    PatternSpec either = spec(three.formatted("dps") + "|" + three.formatted("rads"));
    assertThat(((Reading) parse(either, "1.5 2 3 dps")).channels().gxDps()).isEqualTo(1.5f);
    assertThat(((Reading) parse(either, "1.5 2 3 rads")).channels().gxDps())
        .isEqualTo((float) Math.toDegrees(1.5));
  }

  @Test
  void fieldsThatArePaddedOrEmptyAreReadAsInTheOtherForms() {
    PatternSpec fields = spec("T(?<temp_c>.{8}) G(?<gx_dps>.{8})(?<gy_dps>.{8})(?<gz_dps>.{8})");
    String rates = " G   0.310  -0.120   0.050";
    assertThat(((Reading) parse(fields, "T  24.310" + rates)).temperatureC()).isEqualTo(24.31f);
    assertThat(((Reading) parse(fields, "T        " + rates)).hasTemperature()).isFalse();
  }
}
