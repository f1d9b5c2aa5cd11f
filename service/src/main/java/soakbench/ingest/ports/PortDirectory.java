package soakbench.ingest.ports;

import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.TimeUnit;
import java.util.function.LongSupplier;
import java.util.function.Predicate;
import soakbench.ingest.rackfile.RackFile;
import soakbench.ingest.rackfile.SlotBinding;
import soakbench.serial.PortFinder;
import soakbench.serial.PortInfo;
import soakbench.serial.PortPath;
import soakbench.serial.SerialUnavailableException;

/**
 * Assigns ports to slots, as devices come and go. A port belongs to one slot: first to one that
 * names its path, then to one that names its device, then to one whose pattern it fits, in the
 * order of the rack file; a slot keeps its port while it's there. Thread-safe.
 */
final class PortDirectory {
  private static final long REFRESH_NS = TimeUnit.MILLISECONDS.toNanos(900);

  private final PortFinder finder;
  private final LongSupplier nowNs;
  private final List<RackFile.Slot> slots;
  private List<PortInfo> found = List.of();
  private Map<RackFile.Slot, String> paths = new HashMap<>();
  private Set<String> taken = new HashSet<>();
  private String trouble = "";
  private long refreshedNs;

  PortDirectory(PortFinder finder, List<RackFile.Slot> slots) {
    this(finder, slots, System::nanoTime);
  }

  /** With a clock of one's own, for tests. */
  PortDirectory(PortFinder finder, List<RackFile.Slot> slots, LongSupplier nowNs) {
    this.finder = finder;
    this.slots = List.copyOf(slots);
    this.nowNs = nowNs;
    this.refreshedNs = nowNs.getAsLong() - REFRESH_NS;
  }

  /** The path of this slot's port now. */
  synchronized PortPath path(RackFile.Slot slot) {
    SlotBinding binding = slot.binding();
    if (binding.isPath()) {
      return PortPath.at(binding.port());
    }
    refresh();
    String path = paths.get(slot);
    return path == null ? PortPath.missing(missing(binding)) : PortPath.at(path);
  }

  private String missing(SlotBinding binding) {
    return trouble.isEmpty()
        ? "nothing is plugged in that fits " + binding + "; plug the tracker in, or run \"ports\""
        : trouble;
  }

  /** The ports that no slot names, by path. */
  synchronized List<PortInfo> free() {
    refresh();
    return found.stream().filter(port -> !taken.contains(PortNames.real(port.path()))).toList();
  }

  private void refresh() {
    long now = nowNs.getAsLong();
    if (now - refreshedNs < REFRESH_NS) {
      return;
    }
    refreshedNs = now;
    try {
      found = finder.find();
      trouble = "";
    } catch (SerialUnavailableException | UncheckedIOException e) {
      found = List.of();
      trouble = e.getMessage();
    }
    place();
  }

  private void place() {
    Map<RackFile.Slot, String> before = paths;
    paths = new HashMap<>();
    taken = new HashSet<>();
    place(SlotBinding::isPath, before);
    place(SlotBinding::isByDevice, before);
    place(binding -> binding.isPattern() && !binding.isByDevice(), before);
  }

  private void place(Predicate<SlotBinding> which, Map<RackFile.Slot, String> before) {
    List<RackFile.Slot> waiting = new ArrayList<>();
    for (RackFile.Slot slot : slots) {
      if (which.test(slot.binding())) {
        String had = before.get(slot);
        if (had == null || !fitting(slot.binding()).contains(had) || !take(slot, had)) {
          waiting.add(slot);
        }
      }
    }
    for (RackFile.Slot slot : waiting) {
      fitting(slot.binding()).stream().filter(path -> take(slot, path)).findFirst();
    }
  }

  private boolean take(RackFile.Slot slot, String path) {
    if (!taken.add(PortNames.real(path))) {
      return false;
    }
    paths.put(slot, path);
    return true;
  }

  private List<String> fitting(SlotBinding binding) {
    if (binding.isPath()) {
      return List.of(binding.port());
    }
    List<String> fitting = new ArrayList<>();
    found.stream().filter(binding::fits).forEach(port -> fitting.add(port.path()));
    if (!binding.isByDevice()) {
      fitting.addAll(PortNames.fitting(binding));
    }
    return fitting;
  }
}
