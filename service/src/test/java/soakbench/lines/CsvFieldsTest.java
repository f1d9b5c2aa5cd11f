package soakbench.lines;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class CsvFieldsTest {
  private final CsvFields fields = new CsvFields();

  private CsvFields over(String line) {
    byte[] bytes = ("9," + line + ",9").getBytes(UTF_8);
    return fields.over(bytes, 2, bytes.length - 4);
  }

  private List<String> texts(String line) {
    List<String> texts = new ArrayList<>();
    over(line);
    while (fields.next()) {
      texts.add(fields.text());
    }
    return texts;
  }

  private CsvFields only(String field) {
    assertThat(over(field).next()).isTrue();
    return fields;
  }

  /** RFC 4180, section 2: the last field is not followed by a comma, empty ones count. */
  @Test
  void fieldsLieBetweenCommasEmptyOnesToo() {
    assertThat(texts("aaa,bbb,ccc")).containsExactly("aaa", "bbb", "ccc");
    assertThat(texts(",,")).containsExactly("", "", "");
    assertThat(texts("a,")).containsExactly("a", "");
    assertThat(texts("")).containsExactly("");
  }

  @Test
  void blanksAroundAFieldAndQuotesAboutItAreLeftOut() {
    assertThat(texts(" a\t, \"b c\" ,\"\"")).containsExactly("a", "b c", "");
    assertThat(texts("\" a \"")).containsExactly(" a ");
  }

  @Test
  void aQuoteThatIsNotClosedStays() {
    assertThat(texts("\"a,b\",\"")).containsExactly("\"a", "b\"", "\"");
  }

  @Test
  void lettersOfMoreThanOneByteComeWhole() {
    assertThat(texts("\u00e9\u4e2d,x")).containsExactly("\u00e9\u4e2d", "x");
  }

  @Test
  void theLastIsKnownWhenItIsReached() {
    over("a,b");
    assertThat(fields.next()).isTrue();
    assertThat(fields.last()).isFalse();
    assertThat(fields.next()).isTrue();
    assertThat(fields.last()).isTrue();
    assertThat(fields.next()).isFalse();
  }

  @Test
  void oneThatWalkedALineWalksTheNextFromItsBeginning() {
    assertThat(texts("a,b,c")).hasSize(3);
    assertThat(texts("d")).containsExactly("d");
  }

  @ParameterizedTest
  @ValueSource(strings = {"1", "-0.5", "+3", "1e5", "2E-3", ".5", "1-2"})
  void whatIsMadeOfTheSignsOfANumberLooksNumeric(String field) {
    assertThat(only(field).looksNumeric()).isTrue();
  }

  @ParameterizedTest
  @ValueSource(strings = {"", "-", "e", "nan", "1 2", "0x1", "5%", "12a"})
  void whatHasNoDigitOrAnythingElseDoesNot(String field) {
    assertThat(only(field).looksNumeric()).isFalse();
  }

  @Test
  void aQuotedNumberIsANumberAndANameIsAColumn() {
    assertThat(only(" \"-12.5\" ").plainDecimal()).isEqualTo(-12.5);
    assertThat(only("1e3").plainDecimal()).isNaN();
    assertThat(only(" \"temp_c\" ").column()).isSameAs(Column.TEMP_C);
    assertThat(only("Temp_c").column()).isNull();
    assertThat(only("").column()).isNull();
  }
}
