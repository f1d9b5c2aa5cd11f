package soakbench.ingest;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.List;
import soakbench.model.Tracker;

/** Reads what binds a slot: {@code port}, {@code usb}, {@code serial_number}, {@code tracker}. */
final class BindingKeys {
  private static final List<String> KEYS = List.of("port", "usb", "serial_number", "tracker");

  private final FileProblems problems;

  BindingKeys(FileProblems problems) {
    this.problems = problems;
  }

  SlotBinding binding(String where, String slot, JsonNode node) {
    SlotBinding binding =
        new SlotBinding(
            text(where, node, "port"),
            text(where, node, "usb"),
            text(where, node, "serial_number"));
    if (binding.isByTracker()) {
      checkTracker(where, node);
      return binding;
    }
    checkPattern(where, binding.port());
    if (!binding.isPattern()) {
      problems.once(where, slot, binding.toString());
    }
    return binding;
  }

  private void checkTracker(String where, JsonNode node) {
    if (KEYS.stream().allMatch(key -> FileProblems.isLacking(node.path(key)))) {
      problems.add(
          where,
          "nothing says which port: set port, usb or serial_number as the command \"ports\" shows"
              + " them, or tracker alone where it says its own id");
    }
  }

  private void checkPattern(String where, String port) {
    if (port.contains("*") && port.indexOf('*') < port.lastIndexOf('/')) {
      problems.add(where, "port " + port + " may have a * in its last part only");
    }
  }

  private String text(String where, JsonNode node, String key) {
    JsonNode value = node.path(key);
    if (FileProblems.isLacking(value)) {
      return "";
    }
    String text = value.asText().strip();
    if (text.isEmpty()) {
      problems.add(where, key + " is empty; run the command \"ports\" to see which there are");
    }
    return text;
  }

  String tracker(String where, String slot, JsonNode node) {
    if (FileProblems.isLacking(node)) {
      return null;
    }
    String id = node.asText();
    if (!Tracker.isId(id)) {
      String allowed = "is no id: 1 to 64 letters, digits or any of . _ : -";
      problems.add(where, "tracker \"" + id + "\" " + allowed);
    } else {
      problems.once(where, slot, "tracker " + id);
    }
    return id;
  }
}
