package soakbench.cli.commands;

import java.io.PrintWriter;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import soakbench.ingest.ports.PortReport;
import soakbench.ingest.ports.PortReport.State;
import soakbench.ingest.source.SourceTrouble;

/** What was heard on the ports, as text for people. */
final class PortListing {
  private PortListing() {}

  static void print(List<PortReport> ports, PrintWriter out) {
    if (ports.isEmpty()) {
      out.println("no serial ports found; try, in this order:");
      toTry(out);
    }
    for (PortReport port : ports) {
      out.println((port.device().path() + "  " + port.device().what()).strip());
      where(port, out);
      out.println("    " + described(port));
      if (!port.talk().sample().isEmpty()) {
        out.println("    " + port.talk().sample());
      }
    }
    if (ports.stream().anyMatch(port -> port.state() == State.SILENT)) {
      out.println("where a port is silent try, in this order:");
      toTry(out);
    }
  }

  private static void toTry(PrintWriter out) {
    List<String> toTry = SourceTrouble.WHERE_SILENT;
    for (int i = 0; i < toTry.size(); i++) {
      out.println("  " + (i + 1) + ". " + toTry.get(i));
    }
  }

  private static void where(PortReport port, PrintWriter out) {
    List<String> where = new ArrayList<>();
    if (!port.device().usb().isEmpty()) {
      where.add("usb " + port.device().usb());
    }
    if (!port.device().serialNumber().isEmpty()) {
      where.add("serial_number " + port.device().serialNumber());
    }
    if (!where.isEmpty()) {
      out.println("    " + String.join(", ", where));
    }
  }

  private static String described(PortReport port) {
    return switch (port.state()) {
      case NOT_HEARD -> "free; not listened to";
      case UNUSABLE, GARBLED -> port.reason();
      case SILENT -> "silent";
      case NO_DATA -> at("text", port) + ", but no data: " + port.reason();
      case TALKS -> talks(port);
    };
  }

  private static String talks(PortReport port) {
    String form = port.talk().form().isEmpty() ? "lines" : port.talk().form();
    String whose =
        port.lacksId()
            ? "no id in its lines: set tracker for its slot"
            : String.join(", ", port.talk().trackers());
    String but = port.reason().isEmpty() ? "" : "; " + port.reason();
    return "talks: " + at(form, port) + ", " + whose + but;
  }

  private static String at(String what, PortReport port) {
    return String.format(
        Locale.ROOT,
        "%s at %d baud, %.1f lines/s",
        what,
        port.talk().baud(),
        port.talk().linesPerS());
  }
}
