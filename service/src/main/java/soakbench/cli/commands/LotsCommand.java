package soakbench.cli.commands;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.io.PrintWriter;
import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.concurrent.Callable;
import java.util.stream.Collectors;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;
import soakbench.api.http.Json;
import soakbench.cli.options.CommandException;
import soakbench.cli.options.ServiceOptions;

/** Lots of a running service: all of them, the units of one, or several compared. */
@Command(
    name = "lots",
    description = {
      "Says what the lots of a running service come to.",
      "Without a name all of them, with one its units, with several how they differ."
    },
    mixinStandardHelpOptions = true,
    footer = {"", "Example: soakbench lots Barley-2 Thistle-5 --metric tempco_x_dps_per_c"})
public final class LotsCommand implements Callable<Integer> {
  @Parameters(paramLabel = "LOT", arity = "0..*", description = "a lot, as the roster calls it")
  private List<String> lots = List.of();

  @Option(
      names = "--metric",
      paramLabel = "FIGURE",
      defaultValue = "greatest_tempco_dps_per_c",
      description = "by which figure, a column of /api/figures (default ${DEFAULT-VALUE})")
  private String metric;

  @Option(
      names = "--compare",
      description = "compare the lots named, also where it is one or none; several always are")
  private boolean compare;

  @Option(
      names = "--at-c",
      paramLabel = "DEGC",
      description = "bias and coefficient of every unit at this temperature, degC")
  private Double atC;

  @Option(names = "--json", description = "as the service answers it, for programs")
  private boolean json;

  @Option(names = "--csv", description = "as a table for spreadsheets")
  private boolean csv;

  @Mixin private ServiceOptions service;

  @Spec private CommandSpec spec;

  @Override
  public Integer call() throws IOException {
    if (json && csv) {
      throw new CommandException("--json and --csv are two forms of the same; give one");
    }
    if (compare && lots.isEmpty()) {
      throw new CommandException("--compare wants the lots that are to be compared");
    }
    PrintWriter out = spec.commandLine().getOut();
    if (csv) {
      out.print(service.get(address(".csv"), "text/csv"));
    } else if (json) {
      out.println(service.get(address(""), "application/json"));
    } else {
      people(Json.mapper().readTree(service.get(address(""), "application/json")), out);
    }
    out.flush();
    return 0;
  }

  private boolean compares() {
    return compare || lots.size() > 1;
  }

  private String address(String ending) {
    String at = atC == null ? "" : "at_c=" + atC;
    if (compares()) {
      String names = lots.stream().map(l -> "lots=" + escaped(l)).collect(Collectors.joining("&"));
      return "/api/lot-comparison%s?%s&metric=%s&%s".formatted(ending, names, escaped(metric), at);
    }
    if (lots.size() == 1) {
      // The JSON of a lot has what it comes to beside its units, its table has the units.
      String units = ending.isEmpty() ? "" : "/units" + ending;
      return "/api/lots/%s%s?%s".formatted(escaped(lots.get(0)), units, at);
    }
    return "/api/lots%s?limit=500&%s".formatted(ending, at);
  }

  private static String escaped(String text) {
    return URLEncoder.encode(text, StandardCharsets.UTF_8).replace("+", "%20");
  }

  private void people(JsonNode answer, PrintWriter out) {
    if (compares()) {
      LotsTable.comparison(answer, out);
    } else if (lots.size() == 1) {
      LotsTable.units(answer, known(answer.get("metrics")), out);
    } else if (answer.get("lots").isEmpty()) {
      out.println(
          "The roster has no lot yet: give trackers one, by PUT /api/trackers or at /roster.");
    } else {
      known(answer.get("lots").get(0).get("metrics"));
      LotsTable.lots(answer.get("lots"), metric, out);
    }
  }

  private String known(JsonNode metrics) {
    if (!metrics.has(metric)) {
      throw new CommandException(
          "there is no figure %s; GET /api/figures has their names".formatted(metric));
    }
    return metric;
  }
}
