package soakbench.cli.commands;

import java.io.PrintWriter;
import java.util.Locale;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import soakbench.cli.options.CommandException;
import soakbench.lines.LineParser;
import soakbench.lines.LineResult;
import soakbench.lines.LineSplitter;
import soakbench.lines.PatternSpec;
import soakbench.lines.Printable;
import soakbench.lines.Reading;
import soakbench.lines.Rejection;
import soakbench.serial.SerialLink;

/** Shows on the spot what a pattern takes from the lines of a port. */
final class PatternTrial implements SerialLink.Listener, LineSplitter.Lines {
  private static final int SHOWN_LINES = 20;
  private static final int SHOWN_LENGTH = 120;

  private final LineParser parser;
  private final LineSplitter splitter = new LineSplitter(this);
  private final PrintWriter out;
  private final CountDownLatch unusable = new CountDownLatch(1);
  private String reason = "";
  private boolean firstLine = true;
  private int lines;
  private int matched;

  PatternTrial(PatternSpec spec, PrintWriter out) {
    this.parser = new LineParser(spec);
    this.out = out;
  }

  /**
   * Reads a port for some seconds and prints what came of its lines.
   *
   * @return 0 where any line matched, else 1
   * @throws CommandException if the port can't be opened
   */
  int run(SerialLink.Port port, int seconds) {
    try (SerialLink link = new SerialLink(port, this)) {
      link.start();
      if (unusable.await(seconds, TimeUnit.SECONDS)) {
        throw new CommandException(reason);
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
    sum(port.name(), seconds);
    return matched > 0 ? 0 : 1;
  }

  private void sum(String path, int seconds) {
    if (lines == 0) {
      out.printf(
          "nothing came from %s within %d s: run \"soakbench ports %s\" for what to try%n",
          path, seconds, path);
    } else {
      out.printf("%d of %d lines match%n", matched, lines);
    }
    out.flush();
  }

  @Override
  public void opened() {
    out.println("reading; each line is followed by what the pattern takes from it");
    out.flush();
  }

  @Override
  public void bytes(byte[] buffer, int length) {
    splitter.feed(buffer, 0, length);
  }

  @Override
  public void lost(String why) {
    cannotOpen(why);
  }

  @Override
  public void cannotOpen(String why) {
    reason = why;
    unusable.countDown();
  }

  @Override
  public void line(byte[] bytes, int offset, int length) {
    if (firstLine) {
      // Its beginning may be missing.
      firstLine = false;
      return;
    }
    LineResult answer = parser.parse(bytes, offset, length);
    if (answer == LineResult.Note.BLANK) {
      return;
    }
    lines++;
    matched += answer instanceof Reading ? 1 : 0;
    if (lines <= SHOWN_LINES) {
      out.println(Printable.of(bytes, offset, length, SHOWN_LENGTH));
      out.println("    " + described(answer));
      out.flush();
    }
  }

  @Override
  public void overLong(byte[] bytes, int offset, int length) {
    lines++;
    out.println("a line longer than " + LineSplitter.LONGEST_LINE + " bytes");
  }

  private static String described(LineResult answer) {
    if (answer instanceof Rejection rejection) {
      return "not used: " + rejection.reason();
    }
    Reading r = (Reading) answer;
    Reading.Channels c = r.channels();
    return Stream.of(
            r.id() == null ? "" : "id " + r.id(),
            r.tMs() < 0 ? "" : "t_ms " + r.tMs(),
            r.seq() < 0 ? "" : "seq " + r.seq(),
            number("temperature", "degC", r.temperatureC()),
            number("rates", "deg/s", c.gxDps(), c.gyDps(), c.gzDps()),
            number("acceleration", "g", c.axG(), c.ayG(), c.azG()))
        .filter(part -> !part.isEmpty())
        .collect(Collectors.joining(", "));
  }

  private static String number(String what, String unit, float... values) {
    if (Float.isNaN(values[0])) {
      return "";
    }
    StringBuilder text = new StringBuilder(what);
    for (float value : values) {
      text.append(String.format(Locale.ROOT, " %.4f", value));
    }
    return text.append(' ').append(unit).toString();
  }
}
