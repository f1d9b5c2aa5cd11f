package soakbench.ingest.rackfile;

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
import java.util.List;

/** Reads one rack file and gathers everything that is wrong with it. */
public final class RackFileParser {
  private static final ObjectMapper YAML =
      new ObjectMapper(
          YAMLFactory.builder().enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION).build());

  private static final String AHEAD = "clock_ahead_s";
  private static final int MOST_AHEAD_S = 600;
  private static final String TIMES = "times";
  private static final String SIMULATED = "simulated";
  private static final List<String> KEYS = List.of("rack", "slots", "listen", AHEAD, TIMES);

  private final Path file;
  private final FileProblems problems = new FileProblems();
  private final SlotParser slotParser = new SlotParser(problems);

  private RackFileParser(Path file) {
    this.file = file;
  }

  /**
   * Reads a rack file (YAML).
   *
   * @throws RackFileException if anything in it is wrong; it names all problems at once
   * @throws IOException if the file can't be read
   */
  public static RackFile read(Path file) throws IOException {
    return new RackFileParser(file).parse();
  }

  private RackFile parse() throws IOException {
    JsonNode root = tree();
    if (!root.isObject()) {
      throw failure(file + ": a rack file begins with \"rack:\" and \"slots:\"");
    }
    problems.checkKeys(file + "", root, KEYS);
    ListenSettings listen = new ListenKeys(problems).read(file + "", root.path("listen"));
    boolean slotsNeeded = listen.isNothing() || root.has("slots");
    List<RackFile.Slot> slots = slotsNeeded ? slots(root.path("slots")) : List.of();
    checkSearched(slots);
    checkAddresses(slots, root.has("listen"));
    String rack = root.path("rack").asText("");
    StampTolerance stamps =
        simulated(root.path(TIMES)) ? StampTolerance.BELIEVED : stamps(root.path(AHEAD));
    if (!problems.all().isEmpty()) {
      throw new RackFileException(problems.all());
    }
    return new RackFile(rack, slots, listen, stamps);
  }

  private boolean simulated(JsonNode node) {
    if (!node.isMissingNode() && !SIMULATED.equals(node.asText())) {
      problems.add(
          file + "",
          TIMES + " can only be set to " + SIMULATED + "; leave it out for real trackers");
    }
    return SIMULATED.equals(node.asText());
  }

  private StampTolerance stamps(JsonNode node) {
    if (FileProblems.isLacking(node)) {
      return StampTolerance.USUAL;
    }
    if (!node.isInt() || node.intValue() < 1 || node.intValue() > MOST_AHEAD_S) {
      problems.add(
          file + "", AHEAD + " must be whole seconds, 1 to " + MOST_AHEAD_S + ", not " + node);
      return StampTolerance.USUAL;
    }
    return StampTolerance.ahead(node.intValue());
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

  private List<RackFile.Slot> slots(JsonNode node) {
    List<RackFile.Slot> slots = new ArrayList<>();
    if (!node.isObject() || node.isEmpty()) {
      problems.add(file + "", "slots must be a list like \"A1: {port: /dev/ttyUSB0}\"");
      return slots;
    }
    node.fields().forEachRemaining(slot -> slots.add(slot(slot.getKey(), slot.getValue())));
    return slots;
  }

  private RackFile.Slot slot(String name, JsonNode node) {
    return slotParser.parse(where(name), name, node);
  }

  private String where(String slot) {
    return file + ", slot " + slot;
  }

  private void checkAddresses(List<RackFile.Slot> slots, boolean listens) {
    for (RackFile.Slot slot : slots) {
      if (slot.binding().isAddress() && !listens) {
        problems.add(
            where(slot.name()), "an address needs \"listen: {udp: HOST:PORT}\" beside slots");
      }
    }
  }

  /** Slots that are searched by id share their ports: which is whose is known only later. */
  private void checkSearched(List<RackFile.Slot> slots) {
    List<RackFile.Slot> searched = slots.stream().filter(RackFile.Slot::isSearched).toList();
    for (RackFile.Slot slot : searched) {
      RackFile.Slot first = searched.get(0);
      if (!slot.reading().equals(first.reading())) {
        problems.add(
            where(slot.name()),
            "slots bound by tracker alone listen to the same ports, so they need the same baud,"
                + " columns, pattern, reset and ask as slot "
                + first.name());
      }
    }
  }
}
