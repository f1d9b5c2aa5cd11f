package soakbench.lines;

import static java.nio.charset.StandardCharsets.US_ASCII;
import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class CsvHeaderTest {
  private static CsvHeader header(String line) {
    byte[] bytes = line.getBytes(US_ASCII);
    return CsvHeader.of(new CsvFields().over(bytes, 0, bytes.length));
  }

  private static boolean isLikely(String line) {
    byte[] bytes = ("id," + line + ",id").getBytes(US_ASCII);
    return CsvHeader.isLikely(bytes, 3, bytes.length - 6);
  }

  @Test
  void twoKnownColumnsMakeAHeaderWhateverStandsBetween() {
    CsvHeader header = header("volts,t_ms,note,temp_c");
    assertThat(header.size()).isEqualTo(4);
    assertThat(header.at(0)).isNull();
    assertThat(header.at(1)).isSameAs(Column.T_MS);
    assertThat(header.at(3)).isSameAs(Column.TEMP_C);
    assertThat(header.beginsKnown()).isFalse();
    assertThat(header("t_ms,volts,temp_c").beginsKnown()).isTrue();
  }

  @ParameterizedTest
  @ValueSource(strings = {"", "temp_c", "temp_c,volts", "Temp_c,T_ms", "temp_c;t_ms", "1,2,3"})
  void fewerThanTwoKnownMakeNone(String line) {
    assertThat(header(line)).isNull();
  }

  @ParameterizedTest
  @ValueSource(strings = {"id,temp_c", " id , temp_c", "\"id\",\"temp_c\"", "1,a,b", "\tid,x,2"})
  void twoFieldsThatBeginWithASmallLetterMayBeAHeader(String line) {
    assertThat(isLikely(line)).isTrue();
  }

  @ParameterizedTest
  @ValueSource(strings = {"", "T-1,5,20.5", "id 5,20.5", "5,20.5,nan", "[boot] a b c", "-a,-b"})
  void rowsAndChatterAreNotTakenForOne(String line) {
    assertThat(isLikely(line)).isFalse();
  }

  @Test
  void theSameColumnsInTheSameOrderAreTheSameHeader() {
    CsvHeader header = header("id,temp_c,volts");
    assertThat(header.sameAs(header("id, \"temp_c\" ,amps"))).isTrue();
    assertThat(header.sameAs(header("temp_c,id,volts"))).isFalse();
    assertThat(header.sameAs(header("id,temp_c"))).isFalse();
    assertThat(header.sameAs(null)).isFalse();
  }
}
