package soakbench.ingest.rackfile;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.List;
import soakbench.model.Tracker;

/** Reads what binds a slot: {@code port}, {@code usb}, {@code serial_number}, {@code tracker}. */
final class BindingKeys {
  private static final List<String> KEYS =
      List.of("port", "usb", "serial_number", "address", "tracker");

  private final FileProblems problems;

  BindingKeys(FileProblems problems) {
    this.problems = problems;
  }

  SlotBinding binding(String where, String slot, JsonNode node) {
    SlotBinding binding =
        new SlotBinding(
            text(where, node, "port"),
            text(where, node, "usb"),
            text(where, node, "serial_number"),
            address(where, node));
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

  /** A number, not a name: names are not looked up for every datagram. */
  private String address(String where, JsonNode node) {
    String address = text(where, node, "address");
    if (address.isEmpty()) {
      return "";
    }
    if (!address.matches("[0-9]{1,3}(\\.[0-9]{1,3}){3}|[0-9a-fA-F:]*:[0-9a-fA-F:.]*")) {
      problems.add(where, "address " + address + " is no address like 192.168.4.23");
    }
    if (KEYS.subList(0, 3).stream().anyMatch(node::has)) {
      problems.add(where, "address and a port exclude each other; leave one out");
    }
    return address;
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
      problems.add(where, "tracker \"" + id + "\" is no id: " + Tracker.ID_RULE);
    } else {
      problems.once(where, slot, "tracker " + id);
    }
    return id;
  }
}
