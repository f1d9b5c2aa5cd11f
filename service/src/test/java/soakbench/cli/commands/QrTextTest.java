package soakbench.cli.commands;

import static org.assertj.core.api.Assertions.assertThat;

import com.google.zxing.BarcodeFormat;
import com.google.zxing.BinaryBitmap;
import com.google.zxing.DecodeHintType;
import com.google.zxing.MultiFormatReader;
import com.google.zxing.NotFoundException;
import com.google.zxing.RGBLuminanceSource;
import com.google.zxing.common.HybridBinarizer;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** What the terminal shows is read back by another library than the one that made it. */
class QrTextTest {
  /** Pixels for each half of a character. */
  private static final int SCALE = 4;

  @ParameterizedTest
  @ValueSource(
      strings = {
        "http://192.0.2.17:8094/pair?code=ABCD-2345",
        "https://bench.local:65535/pair?code=00ZZ-99YY",
        "http://[2001:db8:1234:5678:9abc:def0:1234:5678]:8094/pair?code=ABCD-2345"
      })
  void aReaderFindsTheAddressInWhatIsPrinted(String address) throws NotFoundException {
    assertThat(read(QrText.of(address, false))).isEqualTo(address);
    String coloured = QrText.of(address, true).replaceAll("\u001b\\[[0-9;]*m", "");
    assertThat(read(coloured)).isEqualTo(address);
  }

  @Test
  void itFitsATerminalOfEightyColumnsAndTwentyFourLines() {
    List<String> lines =
        QrText.of("http://192.168.100.200:8094/pair?code=ABCD-2345", false).lines().toList();
    assertThat(lines).hasSizeLessThanOrEqualTo(22);
    assertThat(lines).allMatch(line -> line.length() <= 80);
  }

  @Test
  void aTerminalWithoutTheseCharactersIsKnown() {
    assertThat(QrText.canBeShown(StandardCharsets.UTF_8)).isTrue();
    assertThat(QrText.canBeShown(StandardCharsets.US_ASCII)).isFalse();
  }

  /** Light squares are drawn: full blocks are light, blanks are dark. */
  private static String read(String printed) throws NotFoundException {
    List<String> lines = printed.lines().toList();
    int width = lines.get(0).length() * SCALE;
    int height = lines.size() * 2 * SCALE;
    int[] pixels = new int[width * height];
    for (int y = 0; y < height; y++) {
      for (int x = 0; x < width; x++) {
        char shown = lines.get(y / SCALE / 2).charAt(x / SCALE);
        boolean upper = y / SCALE % 2 == 0;
        boolean light = shown == '█' || shown == (upper ? '▀' : '▄');
        pixels[y * width + x] = light ? 0xffffff : 0;
      }
    }
    BinaryBitmap image =
        new BinaryBitmap(new HybridBinarizer(new RGBLuminanceSource(width, height, pixels)));
    return new MultiFormatReader()
        .decode(
            image,
            Map.of(
                DecodeHintType.POSSIBLE_FORMATS,
                List.of(BarcodeFormat.QR_CODE),
                DecodeHintType.TRY_HARDER,
                true))
        .getText();
  }
}
