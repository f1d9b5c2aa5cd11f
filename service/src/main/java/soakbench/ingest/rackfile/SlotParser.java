package soakbench.ingest.rackfile;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.List;
import java.util.stream.Stream;
import soakbench.lines.LineParser;

/** Reads one slot of a rack file. */
final class SlotParser {
  private static final List<String> KEYS =
      Stream.concat(
              Stream.of(
                  "port",
                  "usb",
                  "serial_number",
                  "address",
                  "tracker",
                  "baud",
                  "columns",
                  "reset",
                  "ask"),
              PatternKeys.NAMES.stream())
          .toList();
  private static final int LOWEST_BAUD = 300;
  private static final int HIGHEST_BAUD = 4_000_000;
  private static final String AUTO = "auto";

  private final FileProblems problems;
  private final BindingKeys bindingKeys;
  private final AskKeys askKeys;

  SlotParser(FileProblems problems) {
    this.problems = problems;
    this.bindingKeys = new BindingKeys(problems);
    this.askKeys = new AskKeys(problems);
  }

  /**
   * The slot as far as it is right.
   *
   * @param where the file and the slot, for messages
   */
  RackFile.Slot parse(String where, String name, JsonNode node) {
    if (!node.isObject()) {
      problems.add(where, "must be like \"" + name + ": {port: /dev/ttyUSB0}\"");
      return new RackFile.Slot(name, "");
    }
    problems.checkKeys(where, node, KEYS);
    return new RackFile.Slot(
        name,
        bindingKeys.binding(where, name, node),
        settings(where, node),
        new LineSettings(
            bindingKeys.tracker(where, name, node.path("tracker")),
            columns(where, node.path("columns")),
            PatternKeys.read(where, node, problems)));
  }

  private PortSettings settings(String where, JsonNode node) {
    return new PortSettings(
        baud(where, node.path("baud")),
        reset(where, node.path("reset")),
        askKeys.read(where, node.path("ask")));
  }

  private int baud(String where, JsonNode node) {
    if (FileProblems.isLacking(node) || node.asText().equals(AUTO)) {
      return PortSettings.AUTO_BAUD;
    }
    boolean right =
        node.canConvertToInt()
            && node.isIntegralNumber()
            && node.intValue() >= LOWEST_BAUD
            && node.intValue() <= HIGHEST_BAUD;
    if (!right) {
      String range = LOWEST_BAUD + " to " + HIGHEST_BAUD + ", usually 115200";
      problems.add(
          where, "baud " + node.asText() + " is neither auto nor a whole number from " + range);
      return PortSettings.AUTO_BAUD;
    }
    return node.intValue();
  }

  private String columns(String where, JsonNode node) {
    if (FileProblems.isLacking(node)) {
      return null;
    }
    String columns = node.asText();
    if (!LineParser.isHeader(columns)) {
      String example = "\"id,t_ms,temp_c,gx_dps,gy_dps,gz_dps\"";
      problems.add(where, "columns must be text like " + example);
      return null;
    }
    return columns;
  }

  private boolean reset(String where, JsonNode node) {
    if (!FileProblems.isLacking(node) && !node.isBoolean()) {
      problems.add(where, "reset " + node.asText() + " must be true or false");
    }
    return node.asBoolean(false);
  }
}
