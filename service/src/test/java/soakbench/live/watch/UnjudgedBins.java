package soakbench.live.watch;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import soakbench.model.Bin;
import soakbench.model.Sample;

/**
 * The bins of a whole recording, cut into soaks as {@link TrackerWatch} cuts them, without judging
 * any: where only bins are wanted, the judge would cost more than all the rest. {@code
 * SimulatedBinsTest} holds them against those that the service keeps. Not thread-safe.
 */
public final class UnjudgedBins {
  private final Map<String, TreeMap<Long, Sample>> samples = new HashMap<>();

  /** Takes samples in any order; of those with the same tracker and time the first is kept. */
  public void accept(List<Sample> batch) {
    for (Sample s : batch) {
      samples.computeIfAbsent(s.tracker(), id -> new TreeMap<>()).putIfAbsent(s.timeUs(), s);
    }
  }

  /** The bins of the soak that has most of them; empty where there was no sample. */
  public List<Bin> longest() {
    List<Bin> longest = List.of();
    for (TreeMap<Long, Sample> own : samples.values()) {
      for (List<Bin> soak : soaks(seconds(own))) {
        longest = soak.size() > longest.size() ? soak : longest;
      }
    }
    return longest;
  }

  private static List<OpenBin> seconds(TreeMap<Long, Sample> samples) {
    Map<Long, OpenBin> seconds = new TreeMap<>();
    for (Sample s : samples.values()) {
      seconds.computeIfAbsent(s.second(), at -> new OpenBin(s.tracker(), at)).add(s);
    }
    return List.copyOf(seconds.values());
  }

  private static List<List<Bin>> soaks(List<OpenBin> seconds) {
    List<List<Bin>> soaks = new ArrayList<>();
    RebootDetector boots = new RebootDetector();
    SoakCutter cutter = new SoakCutter();
    int boot = 0;
    for (OpenBin second : seconds) {
      boolean rebooted = false;
      for (Sample s : second.inOrder()) {
        rebooted |= boots.rebooted(s);
      }
      Bin bin = second.close(0);
      boolean begins = soaks.isEmpty() || cutter.before(bin, rebooted) != null;
      if (begins) {
        soaks.add(new ArrayList<>());
        cutter.ended();
      }
      boot = begins ? 0 : boot + (rebooted ? 1 : 0);
      soaks.get(soaks.size() - 1).add(bin.withBoot(boot));
      cutter.heard(bin);
    }
    return soaks;
  }
}
