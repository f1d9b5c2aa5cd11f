package soakbench.ingest.ports;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import soakbench.ingest.identity.ArrivalClock;
import soakbench.ingest.identity.IdOwners;
import soakbench.ingest.rackfile.LineSettings;
import soakbench.ingest.rackfile.RackFile;
import soakbench.ingest.rackfile.SlotBinding;
import soakbench.ingest.source.SourceKind;
import soakbench.ingest.source.SourceStatus;
import soakbench.lines.Reading;
import soakbench.serial.PortFinder;
import soakbench.serial.PortPath;

/** All serial ports of a rack: one for each slot that names its port, and those for the others. */
public final class RackPorts {
  private final List<RackFile.Slot> slots;
  private final Map<String, PortSource> sources = new LinkedHashMap<>();
  private final Set<String> searched;

  /** Null where every slot names its port. */
  private final FreePorts free;

  public RackPorts(RackFile rack, PortFinder finder, ArrivalClock clock, IdOwners owners) {
    slots = rack.slots().stream().filter(slot -> !slot.binding().isAddress()).toList();
    PortDirectory directory = new PortDirectory(finder, slots);
    for (RackFile.Slot slot : slots) {
      if (!slot.isSearched()) {
        sources.put(slot.name(), new PortSource(slot, () -> directory.path(slot), clock, owners));
      }
    }
    List<RackFile.Slot> open = slots.stream().filter(RackFile.Slot::isSearched).toList();
    searched = open.stream().map(RackFile.Slot::tracker).collect(Collectors.toUnmodifiableSet());
    free =
        open.isEmpty()
            ? null
            : new FreePorts(directory, path -> source(open.get(0), path, clock, owners));
  }

  private static PortSource source(
      RackFile.Slot like, String path, ArrivalClock clock, IdOwners owners) {
    SlotBinding binding = SlotBinding.port(path);
    RackFile.Slot slot =
        new RackFile.Slot(
            "",
            binding,
            like.settings(),
            new LineSettings(null, like.lines().columns(), like.lines().pattern()));
    return new PortSource(slot, () -> PortPath.at(path), clock, owners);
  }

  public void start() {
    sources.values().forEach(PortSource::start);
    if (free != null) {
      free.start();
    }
  }

  public void stop() {
    if (free != null) {
      free.stop();
    }
    sources.values().forEach(PortSource::stop);
  }

  public void close() {
    stop();
    if (free != null) {
      free.close();
    }
    sources.values().forEach(PortSource::close);
  }

  /**
   * The status of each slot, in the order of the rack file; then of the other ports listened to.
   */
  public List<SourceStatus> statuses() {
    List<SourceStatus> all = new ArrayList<>();
    for (RackFile.Slot slot : slots) {
      PortSource source = sources.get(slot.name());
      all.add(source == null ? found(slot) : source.status());
    }
    if (free != null) {
      all.addAll(free.without(searched));
    }
    return all;
  }

  private SourceStatus found(RackFile.Slot slot) {
    return free.of(slot.tracker())
        .map(status -> status.inSlot(slot.name()))
        .orElseGet(() -> notFound(slot));
  }

  private SourceStatus notFound(RackFile.Slot slot) {
    Optional<String> other =
        sources.entrySet().stream()
            .filter(source -> source.getValue().has(slot.tracker()))
            .map(Map.Entry::getKey)
            .findFirst();
    String reason =
        slot.tracker()
            + other
                .map(name -> " is heard at slot " + name)
                .orElseGet(() -> " is not heard at any of " + free.count() + " other ports");
    SourceStatus.Heard nothing = SourceStatus.Heard.only(List.of(), Reading.NO_TIME);
    SourceStatus.Way nowhere = new SourceStatus.Way(SourceKind.SERIAL, "");
    return new SourceStatus(slot.name(), nowhere, false, reason, List.of(), "", nothing);
  }
}
