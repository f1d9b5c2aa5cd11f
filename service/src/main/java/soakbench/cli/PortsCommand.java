package soakbench.cli;

import java.io.PrintWriter;
import java.util.List;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;
import soakbench.ingest.PortSurvey;
import soakbench.lines.PatternSpec;
import soakbench.serial.SerialLink;

/** Lists the serial ports. */
@Command(
    name = "ports",
    description = "Lists serial ports: what each is, and what to do where it can't be read.",
    mixinStandardHelpOptions = true,
    footer = {"", "Example: soakbench ports"})
final class PortsCommand implements Callable<Integer> {
  @Parameters(
      arity = "0..*",
      paramLabel = "PORT",
      description = "ports to look at, such as /dev/ttyUSB0; all without")
  private List<String> named = List.of();

  @Option(
      names = "--try",
      paramLabel = "PATTERN",
      description = "shows what a pattern of yours takes from the lines of one port")
  private String pattern;

  @Mixin private PatternOptions patternOptions;

  @Option(
      names = "--baud",
      paramLabel = "RATE",
      defaultValue = "115200",
      description = "bits per second for --try (default ${DEFAULT-VALUE})")
  private int baud;

  @Option(
      names = "--seconds",
      paramLabel = "S",
      defaultValue = "5",
      description = "how long to listen (default ${DEFAULT-VALUE})")
  private int seconds;

  @Spec private CommandSpec spec;

  @Override
  public Integer call() {
    PrintWriter out = spec.commandLine().getOut();
    PatternSpec own = patternOptions.spec(pattern);
    if (own != null) {
      if (named.size() != 1) {
        throw new Failure("--try needs one port: soakbench ports --try PATTERN /dev/ttyUSB0");
      }
      SerialLink.Port port = new SerialLink.Port(named.get(0), baud, false);
      return new PatternTrial(own, out).run(port, seconds);
    }
    List<PortSurvey.Row> rows = PortSurvey.list();
    if (rows.isEmpty()) {
      out.println("no serial ports found: plug a tracker in; if it stays unseen try another cable");
      out.println("(many carry power only), another USB port, or its serial driver;");
      out.println("a port that this user may not open can stay unseen too: join the group dialout");
    }
    for (PortSurvey.Row row : rows) {
      out.println(row.path() + "  " + row.what());
      out.println("    " + where(row) + (row.usable() ? "free" : row.advice()));
    }
    out.flush();
    return 0;
  }

  private static String where(PortSurvey.Row row) {
    String location = row.location().isEmpty() ? "" : "socket " + row.location() + ", ";
    String number = row.serialNumber().isEmpty() ? "" : "number " + row.serialNumber() + ", ";
    return location + number;
  }
}
