package soakbench.cli.commands;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;
import soakbench.api.http.Json;
import soakbench.cli.options.CommandException;
import soakbench.cli.options.PatternOptions;
import soakbench.cli.options.RackFiles;
import soakbench.ingest.ports.PortReport;
import soakbench.ingest.ports.PortSurvey;
import soakbench.lines.PatternSpec;
import soakbench.serial.SerialLink;

/** Lists the serial ports and what is heard on them. */
@Command(
    name = "ports",
    description =
        "Listens to the serial ports and tells of each what it is, whether it talks, and what to"
            + " try where it does not. Sends nothing.",
    mixinStandardHelpOptions = true,
    footer = {"", "Example: soakbench ports --write-rack rack.yaml"})
public final class PortsCommand implements Callable<Integer> {
  private static final double LONGEST_S = 600;

  @Parameters(
      arity = "0..*",
      paramLabel = "PORT",
      description = "device files to listen to, besides those found")
  private List<String> named = List.of();

  @Option(
      names = "--seconds",
      defaultValue = "3",
      description = "how long to listen, more than 0 and up to 600 (default ${DEFAULT-VALUE})")
  private double seconds;

  @Option(names = "--no-listen", description = "open no port; only list them")
  private boolean noListen;

  @Option(names = "--json", description = "for programs")
  private boolean json;

  @Option(
      names = "--write-rack",
      paramLabel = "FILE",
      description = "write a rack file with a slot for each port that talks")
  private Path rackFile;

  @Option(names = "--force", description = "let --write-rack replace the file if it is there")
  private boolean force;

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

  @Spec private CommandSpec spec;

  @Override
  public Integer call() throws IOException, InterruptedException {
    check();
    PatternSpec own = patternOptions.spec(pattern);
    return own == null ? survey() : tryOn(own);
  }

  private int tryOn(PatternSpec own) {
    if (named.size() != 1) {
      throw new CommandException(
          "--try needs one port: soakbench ports --try PATTERN /dev/ttyUSB0");
    }
    SerialLink.Port port = new SerialLink.Port(named.get(0), baud, false);
    PrintWriter out = spec.commandLine().getOut();
    return new PatternTrial(own, out).run(port, (int) Math.ceil(seconds));
  }

  private int survey() throws IOException, InterruptedException {
    PortSurvey survey = new PortSurvey();
    List<PortReport> ports = noListen ? survey.look(named) : survey.listen(named, seconds);
    PrintWriter out = spec.commandLine().getOut();
    if (json) {
      out.println(Json.write(Map.of("ports", ports)));
    } else {
      PortListing.print(ports, out);
    }
    if (rackFile != null) {
      RackFiles.write(rackFile, ports, force);
      if (!json) {
        out.println("wrote " + rackFile + "; read it by: soakbench serve --rack " + rackFile);
      }
    }
    out.flush();
    return 0;
  }

  private void check() {
    if (!(seconds > 0 && seconds <= LONGEST_S)) {
      throw new CommandException("--seconds " + seconds + " is not more than 0 and up to 600");
    }
    if (rackFile != null && noListen) {
      throw new CommandException("--write-rack must hear which ports talk: leave out --no-listen");
    }
    if (rackFile != null) {
      RackFiles.check(rackFile, force);
    }
  }
}
