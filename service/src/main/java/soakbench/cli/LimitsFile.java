package soakbench.cli;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import com.fasterxml.jackson.dataformat.yaml.YAMLMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Iterator;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import soakbench.api.Json;
import soakbench.model.Limits;
import soakbench.model.NearestName;

/**
 * Reads limits from YAML: any of the keys that {@link Limits} has, in snake_case; what is not given
 * keeps its default. All problems are told at once.
 */
final class LimitsFile {
  private final Path file;
  private final List<String> problems = new ArrayList<>();

  private LimitsFile(Path file) {
    this.file = file;
  }

  /** The defaults where {@code file} is null. */
  static Limits read(Path file) throws IOException {
    return file == null ? Limits.DEFAULT : new LimitsFile(file).parse();
  }

  private Limits parse() throws IOException {
    JsonNode given = tree();
    ObjectNode all = Json.mapper().valueToTree(Limits.DEFAULT);
    Iterator<Map.Entry<String, JsonNode>> fields = given.fields();
    while (fields.hasNext()) {
      Map.Entry<String, JsonNode> field = fields.next();
      take(all, field.getKey(), field.getValue());
    }
    if (problems.isEmpty()) {
      checkSense(all);
    }
    if (!problems.isEmpty()) {
      throw new LimitsFileException(problems);
    }
    return Json.mapper().treeToValue(all, Limits.class);
  }

  private JsonNode tree() throws IOException {
    if (Files.isDirectory(file)) {
      throw new Failure(file + " is a folder; name the limits file in it");
    }
    try {
      JsonNode node = new YAMLMapper().readTree(Files.readString(file));
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

  private void take(ObjectNode all, String key, JsonNode value) {
    if (!all.has(key)) {
      List<String> known = new ArrayList<>();
      all.fieldNames().forEachRemaining(known::add);
      Optional<String> nearest = NearestName.to(key, known);
      problems.add(
          file
              + ": there is no limit \""
              + key
              + "\""
              + nearest
                  .map(n -> "; did you mean \"" + n + "\"?")
                  .orElse("; the limits are " + String.join(", ", known)));
    } else if (value.isNull() && key.equals("near_use_limit_deg_per_min")) {
      all.putNull(key);
    } else if (!value.isNumber() || !(value.doubleValue() >= 0) && !key.endsWith("_c")) {
      problems.add(file + ": " + key + " is " + value + "; it must be a number, not below 0");
    } else {
      all.set(key, value);
    }
  }

  private void checkSense(ObjectNode all) {
    double low = all.get("band_low_c").doubleValue();
    double high = all.get("band_high_c").doubleValue();
    if (low >= high) {
      problems.add(file + ": band_low_c " + low + " must be below band_high_c " + high);
    }
    if (all.get("hot_c").doubleValue() <= high) {
      problems.add(file + ": hot_c must be above band_high_c " + high);
    }
    double alpha = all.get("alpha").doubleValue();
    if (!(alpha > 0 && alpha < 0.5)) {
      problems.add(file + ": alpha is " + alpha + "; it must lie between 0 and 0.5");
    }
    for (String key :
        List.of(
            "shift_limit_dps",
            "temperature_rate_limit_c_per_min",
            "calibration_s",
            "heard_within_s")) {
      if (!(all.get(key).doubleValue() > 0)) {
        problems.add(file + ": " + key + " must be above 0");
      }
    }
  }
}
