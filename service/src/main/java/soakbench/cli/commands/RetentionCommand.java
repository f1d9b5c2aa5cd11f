package soakbench.cli.commands;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.io.PrintWriter;
import java.util.Locale;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;
import soakbench.api.http.Json;
import soakbench.cli.options.ServiceOptions;

/** Tells how long a running service keeps samples, and which would go; changes nothing. */
@Command(
    name = "retention",
    description = {
      "Tells for how long a running service keeps samples, and which would go.",
      "Changes nothing: what removes them is serve --keep-samples-days."
    },
    mixinStandardHelpOptions = true,
    footer = {"", "Example: soakbench retention --days 90"})
public final class RetentionCommand implements Callable<Integer> {
  private static final int DATE = 10;
  private static final double MB = 1e6;

  @Option(
      names = "--days",
      paramLabel = "DAYS",
      description = "what would go if they were kept for so many days (default: as it is set)")
  private Integer days;

  @Option(names = "--json", description = "as the service answers it, for programs")
  private boolean json;

  @Mixin private ServiceOptions service;

  @Spec private CommandSpec spec;

  @Override
  public Integer call() throws IOException {
    String path = "/api/retention" + (days == null ? "" : "?days=" + days);
    String answer = service.get(path, "application/json");
    PrintWriter out = spec.commandLine().getOut();
    if (json) {
      out.println(answer);
    } else {
      people(Json.mapper().readTree(answer), out);
    }
    out.flush();
    return 0;
  }

  private static void people(JsonNode kept, PrintWriter out) {
    JsonNode set = kept.get("keep_samples_days");
    out.println(
        set.isNull()
            ? "This service removes no samples."
            : "It keeps samples for " + set.asInt() + " days.");
    if (!kept.get("days").isNull()) {
      JsonNode bytes = kept.get("going_bytes");
      String size =
          bytes.isNull()
              ? ", of a size that is not known yet"
              : String.format(Locale.ROOT, ", about %.0f MB", bytes.asLong() / MB);
      out.printf("Of %d days would go: %s%n", kept.get("days").asInt(), words(kept, "going", size));
      out.println("As old and held, open or not derived to the end: " + words(kept, "held", ""));
    } else {
      out.println("What would go: soakbench retention --days 90");
    }
    out.println("Gone so far: " + words(kept, "gone", ""));
  }

  private static String words(JsonNode kept, String which, String size) {
    JsonNode of = kept.get(which);
    return of.get("soaks").asLong() == 0
        ? "nothing"
        : String.format(
            Locale.ROOT,
            "%d soaks of %s to %s, %d samples%s",
            of.get("soaks").asLong(),
            of.get("oldest").asText().substring(0, DATE),
            of.get("newest").asText().substring(0, DATE),
            of.get("samples").asLong(),
            size);
  }
}
