package soakbench.demo.lines;

import static org.assertj.core.api.Assertions.assertThat;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.nio.charset.StandardCharsets;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class LineBufferTest {
  private final LineBuffer buffer = new LineBuffer();

  private String text() {
    return new String(buffer.bytes(), 0, buffer.length(), StandardCharsets.UTF_8);
  }

  @ParameterizedTest
  @CsvSource({
    "24.31, 4, 24.3100",
    "-0.12, 5, -0.12000",
    "0, 1, 0.0",
    "-0.00001, 4, 0.0000",
    "-0.00009, 4, -0.0001",
    "9.99996, 4, 10.0000",
    "987654.321, 5, 987654.32100",
    "0.000001, 6, 0.000001",
    "-999.9, 1, -999.9"
  })
  void aNumberHasItsCountOfDecimals(double number, int decimals, String expected) {
    buffer.add(number, decimals);
    assertThat(text()).isEqualTo(expected);
  }

  /** The language's own decimals, which are exact; a draw exactly on a half is never met. */
  @Test
  void numbersAreRoundedAsTheLibraryRoundsThem() {
    SplittableRandom random = new SplittableRandom(11);
    for (int i = 0; i < 20_000; i++) {
      double number = random.nextDouble(-4000, 4000);
      int decimals = 1 + random.nextInt(6);
      buffer.clear();
      buffer.add(number, decimals);
      BigDecimal exact = new BigDecimal(number).setScale(decimals, RoundingMode.HALF_UP);
      assertThat(new BigDecimal(text())).isEqualTo(exact);
    }
  }

  @ParameterizedTest
  @CsvSource({
    "0, 1, 0",
    "7, 3, 007",
    "1234, 3, 1234",
    "1000, 4, 1000",
    "9223372036854775807, 1, 9223372036854775807"
  })
  void aWholeNumberHasAtLeastItsDigits(long number, int digits, String expected) {
    buffer.add(number, digits);
    assertThat(text()).isEqualTo(expected);
  }

  @Test
  void itGrowsAsItMustAndKeepsWhatItHolds() {
    for (int i = 0; i < 5_000; i++) {
      buffer.add("ab").add('c').add(new byte[] {'d'});
    }
    assertThat(text()).isEqualTo("abcd".repeat(5_000));
  }

  @Test
  void cuttingLeavesTheBeginningAndNeverLengthens() {
    buffer.add("abcdef");
    buffer.truncate(3);
    assertThat(text()).isEqualTo("abc");
    buffer.truncate(10);
    assertThat(text()).isEqualTo("abc");
    buffer.add('x');
    assertThat(text()).isEqualTo("abcx");
    buffer.clear();
    assertThat(buffer.length()).isZero();
  }
}
