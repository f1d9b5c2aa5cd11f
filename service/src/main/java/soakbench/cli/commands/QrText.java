package soakbench.cli.commands;

import io.nayuki.qrcodegen.QrCode;
import java.nio.charset.Charset;

/**
 * A QR code (ISO/IEC 18004) in characters that are half as wide as high, two rows of squares to a
 * line. Light squares are drawn, dark ones left out: on a terminal with light letters on a dark
 * ground that is right as it is; where colours can be set, they are.
 */
final class QrText {
  private static final int QUIET = 4;
  private static final String WHITE_ON_BLACK = "\u001b[38;5;231;48;5;16m";
  private static final String AS_BEFORE = "\u001b[0m";

  private QrText() {}

  /** Whether a terminal of this charset can show it. */
  static boolean canBeShown(Charset charset) {
    return charset.newEncoder().canEncode("█▀▄");
  }

  /**
   * The code's lines, each with a line end.
   *
   * @param colours whether to set black and white
   */
  static String of(String text, boolean colours) {
    QrCode code = QrCode.encodeText(text, QrCode.Ecc.MEDIUM);
    StringBuilder out = new StringBuilder();
    for (int y = -QUIET; y < code.size + QUIET; y += 2) {
      out.append(colours ? WHITE_ON_BLACK : "");
      for (int x = -QUIET; x < code.size + QUIET; x++) {
        boolean lastIsHalf = y + 1 >= code.size + QUIET;
        out.append(square(!code.getModule(x, y), !lastIsHalf && !code.getModule(x, y + 1)));
      }
      out.append(colours ? AS_BEFORE : "").append(System.lineSeparator());
    }
    return out.toString();
  }

  private static char square(boolean upper, boolean lower) {
    if (upper) {
      return lower ? '█' : '▀';
    }
    return lower ? '▄' : ' ';
  }
}
