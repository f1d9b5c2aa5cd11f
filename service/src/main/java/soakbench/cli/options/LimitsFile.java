package soakbench.cli.options;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.StreamReadFeature;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.dataformat.yaml.YAMLFactory;
import com.fasterxml.jackson.dataformat.yaml.YAMLMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import soakbench.api.http.Json;
import soakbench.model.Limits;
import soakbench.model.LimitsDraft;

/**
 * Reads limits from YAML: any of the keys that {@link Limits} has, in snake_case; what is not given
 * keeps its default. All problems are reported at once.
 */
public final class LimitsFile {
  private static final YAMLMapper YAML =
      new YAMLMapper(
          YAMLFactory.builder().enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION).build());

  private LimitsFile() {}

  /** The defaults where {@code file} is null. */
  public static Limits read(Path file) throws IOException {
    if (file == null) {
      return Limits.DEFAULT;
    }
    LimitsDraft draft = new LimitsDraft(Limits.DEFAULT);
    tree(file).properties().forEach(p -> draft.set(p.getKey(), Json.plain(p.getValue())));
    List<LimitsDraft.Problem> problems = draft.problems();
    if (!problems.isEmpty()) {
      throw new LimitsFileException(problems.stream().map(p -> file + ": " + p.reason()).toList());
    }
    return draft.limits();
  }

  private static JsonNode tree(Path file) throws IOException {
    if (Files.isDirectory(file)) {
      throw new CommandException(file + " is a folder; name the limits file in it");
    }
    try {
      JsonNode node = YAML.readTree(Files.readString(file));
      if (node == null || node.isMissingNode() || node.isNull()) {
        return Json.mapper().createObjectNode();
      }
      if (!node.isObject()) {
        throw new LimitsFileException(
            List.of(
                file
                    + ": expected lines such as \"band_low_c: 28\", found "
                    + node.getNodeType().name().toLowerCase(Locale.ROOT)));
      }
      return node;
    } catch (JsonProcessingException e) {
      int line = e.getLocation() == null ? 0 : e.getLocation().getLineNr();
      throw new LimitsFileException(
          List.of(
              file
                  + ", line "
                  + line
                  + ": not YAML: "
                  + e.getOriginalMessage().lines().findFirst().orElse("")));
    }
  }
}
