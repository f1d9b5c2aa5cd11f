package soakbench.cli.commands;

import java.io.PrintWriter;
import java.nio.charset.Charset;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.Locale;
import soakbench.api.access.PairingCode;

/** Prints how to pair one phone: a code to type, and an address as a QR code to scan. */
final class PairingNotice {
  private static final DateTimeFormatter CLOCK = DateTimeFormatter.ofPattern("HH:mm", Locale.ROOT);

  private PairingNotice() {}

  /** Prints it; the first of the code's addresses as a QR code. */
  static void print(PairingCode code, PrintWriter out) {
    String until = CLOCK.format(code.expires().atZone(ZoneId.systemDefault()));
    out.println("pairing code " + code.code() + ", for one phone, until " + until);
    code.pages().forEach(page -> out.println("  type it at " + page.resolve("/pair")));
    if (QrText.canBeShown(Charset.defaultCharset())) {
      out.println("  or scan:");
      out.print(QrText.of(code.pages().get(0).toString(), System.console() != null));
    } else {
      out.println("  (no QR code: this terminal shows no UTF-8)");
    }
    out.flush();
  }
}
