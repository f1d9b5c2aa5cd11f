package soakbench.lines;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;

class PrintableTest {

  /** RFC 20, section 5: graphics and the space lie from 2/0 to 7/14, controls outside them. */
  @Test
  void ofAllBytesTheNinetyFiveOfAsciiShowThemselvesAndTheOthersADot() {
    byte[] all = new byte[256];
    for (int i = 0; i < 256; i++) {
      all[i] = (byte) i;
    }
    String shown = Printable.of(all, 0, 256, 256);
    for (int i = 0; i < 256; i++) {
      boolean graphic = i >= 0x20 && i <= 0x7e;
      assertThat(shown.charAt(i)).as("byte %d", i).isEqualTo(graphic ? (char) i : '.');
    }
  }

  @Test
  void noMoreIsShownThanTheLimitAndNothingFromOutside() {
    byte[] bytes = "before-shown-after".getBytes(java.nio.charset.StandardCharsets.US_ASCII);
    assertThat(Printable.of(bytes, 7, 5, 80)).isEqualTo("shown");
    assertThat(Printable.of(bytes, 7, 5, 3)).isEqualTo("sho");
    assertThat(Printable.of(bytes, 7, 0, 3)).isEmpty();
  }

  @Test
  void aLetterOfThreeBytesTakesThreeDots() {
    assertThat(Printable.of("a\u4e2db", 40)).isEqualTo("a...b");
    assertThat(Printable.of("\u001b[33m", 40)).isEqualTo(".[33m");
  }
}
