package soakbench.ingest;

import com.fasterxml.jackson.core.JsonLocation;
import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.StreamReadFeature;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.dataformat.yaml.YAMLFactory;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.Iterator;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import soakbench.lines.LineParser;
import soakbench.model.NearestName;
import soakbench.model.Tracker;

/** Reads one rack file and gathers everything that is wrong with it. */
final class RackFileParser {
  private static final ObjectMapper YAML =
      new ObjectMapper(
          YAMLFactory.builder().enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION).build());

  private static final List<String> KEYS = List.of("rack", "slots");
  private static final List<String> SLOT_KEYS =
      Stream.concat(
              Stream.of("port", "baud", "tracker", "columns", "reset"), PatternKeys.NAMES.stream())
          .toList();
  private static final int LOWEST_BAUD = 300;
  private static final int HIGHEST_BAUD = 4_000_000;

  private final Path file;
  private final List<String> problems = new ArrayList<>();
  private final Map<String, String> slotsByPort = new HashMap<>();
  private final Map<String, String> slotsByTracker = new HashMap<>();

  RackFileParser(Path file) {
    this.file = file;
  }

  RackFile parse() throws IOException {
    JsonNode root = tree();
    if (!root.isObject()) {
      throw failure(file + ": a rack file begins with \"rack:\" and \"slots:\"");
    }
    checkKeys(file + "", root, KEYS);
    List<RackFile.Slot> slots = slots(root.path("slots"));
    String rack = root.path("rack").asText("");
    if (!problems.isEmpty()) {
      throw new RackFileException(problems);
    }
    return new RackFile(rack, slots);
  }

  private JsonNode tree() throws IOException {
    if (Files.isDirectory(file)) {
      throw failure(file + " is a folder; name the rack file in it");
    }
    try {
      return YAML.readTree(Files.readString(file));
    } catch (NoSuchFileException e) {
      throw new IOException("rack file " + file + " does not exist", e);
    } catch (JsonProcessingException e) {
      JsonLocation place = e.getLocation();
      String where = place == null ? "" : ", line " + place.getLineNr();
      throw failure(file + where + ": not YAML: " + firstLine(e.getOriginalMessage()));
    }
  }

  private static String firstLine(String message) {
    return message.lines().findFirst().orElse("not YAML");
  }

  private static RackFileException failure(String problem) {
    return new RackFileException(List.of(problem));
  }

  private void checkKeys(String where, JsonNode node, List<String> known) {
    for (Iterator<String> names = node.fieldNames(); names.hasNext(); ) {
      String name = names.next();
      if (!known.contains(name)) {
        String allowed = "; known are " + String.join(", ", known);
        String hint = NearestName.to(name, known).isPresent() ? hint(name, known) : allowed;
        problems.add(where + ": unknown key \"" + name + "\"" + hint);
      }
    }
  }

  private static String hint(String name, List<String> known) {
    return NearestName.hint(name, known);
  }

  private List<RackFile.Slot> slots(JsonNode node) {
    List<RackFile.Slot> slots = new ArrayList<>();
    if (!node.isObject() || node.isEmpty()) {
      problems.add(file + ": slots must be a list like \"A1: {port: /dev/ttyUSB0}\"");
      return slots;
    }
    node.fields().forEachRemaining(slot -> slots.add(slot(slot.getKey(), slot.getValue())));
    return slots;
  }

  private RackFile.Slot slot(String name, JsonNode node) {
    String where = file + ", slot " + name;
    if (!node.isObject()) {
      problems.add(where + ": must be like \"" + name + ": {port: /dev/ttyUSB0}\"");
      return new RackFile.Slot(name, "");
    }
    checkKeys(where, node, SLOT_KEYS);
    return new RackFile.Slot(
        name,
        port(where, name, node.path("port")),
        baud(where, node.path("baud")),
        lines(where, name, node),
        reset(where, node.path("reset")));
  }

  private LineSettings lines(String where, String name, JsonNode node) {
    return new LineSettings(
        tracker(where, name, node.path("tracker")),
        columns(where, node.path("columns")),
        PatternKeys.read(where, node, problems));
  }

  private String port(String where, String slot, JsonNode node) {
    String port = node.asText("").strip();
    if (port.isEmpty()) {
      problems.add(where + ": port is missing; run the command \"ports\" to see which there are");
      return "";
    }
    once(where, "port " + port, slotsByPort.putIfAbsent(port, slot));
    return port;
  }

  private void once(String where, String what, String otherSlot) {
    if (otherSlot != null) {
      problems.add(where + ": " + what + " is set for slot " + otherSlot + " already");
    }
  }

  private int baud(String where, JsonNode node) {
    if (isLacking(node)) {
      return RackFile.DEFAULT_BAUD;
    }
    boolean right =
        node.canConvertToInt()
            && node.isIntegralNumber()
            && node.intValue() >= LOWEST_BAUD
            && node.intValue() <= HIGHEST_BAUD;
    if (!right) {
      String range = LOWEST_BAUD + " to " + HIGHEST_BAUD + ", usually " + RackFile.DEFAULT_BAUD;
      problems.add(where + ": baud " + node.asText() + " is not a whole number from " + range);
      return RackFile.DEFAULT_BAUD;
    }
    return node.intValue();
  }

  private String tracker(String where, String slot, JsonNode node) {
    if (isLacking(node)) {
      return null;
    }
    String id = node.asText();
    if (!Tracker.isId(id)) {
      String allowed = "is no id: 1 to 64 letters, digits or any of . _ : -";
      problems.add(where + ": tracker \"" + id + "\" " + allowed);
    } else {
      once(where, "tracker " + id, slotsByTracker.putIfAbsent(id, slot));
    }
    return id;
  }

  private String columns(String where, JsonNode node) {
    if (isLacking(node)) {
      return null;
    }
    String columns = node.asText();
    if (!LineParser.isHeader(columns)) {
      String example = "\"id,t_ms,temp_c,gx_dps,gy_dps,gz_dps\"";
      problems.add(where + ": columns must be text like " + example);
      return null;
    }
    return columns;
  }

  private boolean reset(String where, JsonNode node) {
    if (!isLacking(node) && !node.isBoolean()) {
      problems.add(where + ": reset " + node.asText() + " must be true or false");
    }
    return node.asBoolean(false);
  }

  private static boolean isLacking(JsonNode node) {
    return node.isMissingNode() || node.isNull();
  }
}
