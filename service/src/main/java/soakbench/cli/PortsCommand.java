package soakbench.cli;

import java.io.PrintWriter;
import java.util.List;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Spec;
import soakbench.ingest.PortSurvey;

/** Lists the serial ports. */
@Command(
    name = "ports",
    description = "Lists serial ports: what each is, and what to do where it can't be read.",
    mixinStandardHelpOptions = true,
    footer = {"", "Example: soakbench ports"})
final class PortsCommand implements Callable<Integer> {
  @Spec private CommandSpec spec;

  @Override
  public Integer call() {
    PrintWriter out = spec.commandLine().getOut();
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
