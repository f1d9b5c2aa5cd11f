package soakbench.lines;

import static java.nio.charset.StandardCharsets.US_ASCII;
import static org.assertj.core.api.Assertions.assertThat;

import java.math.BigDecimal;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import soakbench.Drawn;

/** Plain decimals are read exactly as the language's own library reads them. */
class DecimalTest {
  private static double plain(String text) {
    byte[] bytes = ("x" + text + "9").getBytes(US_ASCII);
    return Decimal.plain(bytes, 1, bytes.length - 1);
  }

  @Test
  void everyDecimalOfUpToFifteenDigitsIsExact() {
    Drawn.cases(20_000, this::decimalIsExact);
  }

  private void decimalIsExact(Drawn drawn) {
    long digits = drawn.from(-999_999_999_999_999L, 999_999_999_999_999L);
    String text = BigDecimal.valueOf(digits, drawn.from(0, 16)).toPlainString();
    assertThat(Double.doubleToRawLongBits(plain(text)))
        .as(text)
        .isEqualTo(Double.doubleToRawLongBits(Double.parseDouble(text)));
  }

  @ParameterizedTest
  @ValueSource(strings = {"-0", "-0.0", "0", "00012.50", "24.31", "-0.1200", "4294967295"})
  void zerosAndSignsAreKept(String text) {
    assertThat(Double.doubleToRawLongBits(plain(text)))
        .isEqualTo(Double.doubleToRawLongBits(Double.parseDouble(text)));
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "",
        "-",
        ".",
        "-.",
        ".5",
        "5.",
        "+1",
        "1e3",
        "1.2.3",
        "1-2",
        "0x10",
        "NaN",
        "1 ",
        "12345678901234567890",
        "0.12345678901234567890"
      })
  void whatIsNoPlainDecimalIsLeftToTheLibrary(String text) {
    assertThat(plain(text)).isNaN();
  }
}
