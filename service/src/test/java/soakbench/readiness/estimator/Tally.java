package soakbench.readiness.estimator;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import soakbench.demo.unit.Uncovering;

/** What was told of many runs held against their truth. */
final class Tally {
  private static final int LID_GRACE_S = 40;
  static final int[] WAY = {25, 50, 75};

  private int runs;
  private int harmfulRuns;
  private int harmfulStays;
  private int could;
  private int never;
  private int entries;
  private int movingEntries;
  private int changes;
  private double worstEntry;
  private double cpuS;
  private long seconds;
  private final List<Double> delays = new ArrayList<>();
  private final List<Double> available = new ArrayList<>();
  private final List<List<double[]>> forecasts =
      List.of(new ArrayList<>(), new ArrayList<>(), new ArrayList<>());
  private int[] asked = new int[WAY.length];
  private long covered;
  private long told;
  private long coveredLate;
  private long toldLate;
  private final List<Double> halves = new ArrayList<>();
  private final Reliability reliability = new Reliability();
  private final List<String> notes = new ArrayList<>();

  int harmfulRuns() {
    return harmfulRuns;
  }

  double delayS(double p) {
    return quantileD(delays, p);
  }

  double shiftCoverage() {
    return covered / (double) told;
  }

  Reliability reliability() {
    return reliability;
  }

  void add(TrackedRun run, Course c) {
    runs++;
    reliability.add(run, c);
    cpuS += c.cpuS();
    seconds += run.bins.size();
    entries(run, c);
    int readySeconds = count(run.ready, TrackedRun.SECONDS);
    int first = first(run.ready);
    if (readySeconds >= 300) {
      delay(run, c, readySeconds, first);
    }
    shifts(run, c);
    if (first >= 0 && first - run.firstS() >= 400) {
      for (int w = 0; w < WAY.length; w++) {
        forecast(run, c, w, first);
      }
    }
  }

  private void entries(TrackedRun run, Course c) {
    boolean bad = false;
    int stay = 0;
    int longest = 0;
    for (int s = 1; s < TrackedRun.SECONDS; s++) {
      changes += c.ready()[s] != c.ready()[s - 1] ? 1 : 0;
      boolean entered = c.ready()[s] && !c.ready()[s - 1];
      stay = c.ready()[s] && run.harmful[s] ? stay + 1 : 0;
      longest = Math.max(longest, stay);
      if (entered && !nearLid(run, s)) {
        entries++;
        worstEntry = Math.max(worstEntry, run.greatestDps[s]);
        movingEntries += run.greatestDps[s] > 0.0105 ? 1 : 0;
        bad |= run.harmful[s];
        if (run.harmful[s]) {
          notes.add(
              String.format(
                  "harmful at %d: shift %.4f T %.2f  %s",
                  s, run.greatestDps[s], run.temperatureC[s], run.words()));
        }
      }
    }
    harmfulRuns += bad ? 1 : 0;
    harmfulStays += longest > 60 ? 1 : 0;
  }

  private static boolean nearLid(TrackedRun run, int s) {
    for (Uncovering lid : run.events().uncoverings()) {
      if (s >= lid.fromS() && s - lid.fromS() <= LID_GRACE_S
          || s >= lid.toS() && s - lid.toS() <= LID_GRACE_S) {
        return true;
      }
    }
    return false;
  }

  private void delay(TrackedRun run, Course c, int readySeconds, int first) {
    int good = -1;
    int both = 0;
    for (int s = 1; s < TrackedRun.SECONDS; s++) {
      boolean entered = c.ready()[s] && !c.ready()[s - 1];
      good = good < 0 && entered && !run.harmful[s] ? s : good;
      both += c.ready()[s] && run.ready[s] ? 1 : 0;
    }
    available.add(both / (double) readySeconds);
    if (readySeconds >= 600) {
      could++;
      never += first(c.ready()) < 0 ? 1 : 0;
    }
    if (good >= 0) {
      delays.add(good <= first ? good - first : (double) count(run.ready, good));
      if (delays.get(delays.size() - 1) > 300) {
        notes.add(String.format("late by %.0f: %s", delays.get(delays.size() - 1), run.words()));
      }
    } else {
      notes.add("never: " + run.words());
    }
  }

  private static int count(boolean[] mask, int to) {
    int n = 0;
    for (int s = 0; s < to; s++) {
      n += mask[s] ? 1 : 0;
    }
    return n;
  }

  private static int first(boolean[] mask) {
    for (int s = 0; s < mask.length; s++) {
      if (mask[s]) {
        return s;
      }
    }
    return -1;
  }

  private void shifts(TrackedRun run, Course c) {
    long toldBefore = told;
    long coveredBefore = covered;
    for (int s = 0; s < TrackedRun.SECONDS; s++) {
      double[] t = c.shifts()[s];
      if (t == null || s < run.firstS() + 240 || run.disturbed(s - 120.0, s)) {
        continue;
      }
      boolean late = Math.abs(run.rateCPerMin[s]) < 0.2;
      for (int a = 0; a < 3; a++) {
        boolean in = t[2 * a] <= run.shiftDps[s][a] && run.shiftDps[s][a] <= t[2 * a + 1];
        told++;
        covered += in ? 1 : 0;
        toldLate += late ? 1 : 0;
        coveredLate += late && in ? 1 : 0;
        if (late) {
          halves.add((t[2 * a + 1] - t[2 * a]) / 2);
        }
      }
    }
    double share = (covered - coveredBefore) / (double) (told - toldBefore);
    if (share < 0.8) {
      notes.add(String.format("shifts covered in %.2f: %s", share, run.words()));
    }
  }

  private void forecast(TrackedRun run, Course c, int w, int ready) {
    double at = run.firstS() + WAY[w] / 100.0 * (ready - run.firstS());
    if (run.disturbed(at - 60, ready)) {
      return;
    }
    asked[w]++;
    double[] newest = null;
    for (int s = (int) at; s > at - 120 && s >= 0 && newest == null; s--) {
      newest = c.forecasts()[s];
    }
    if (newest != null) {
      int own = first(c.ready());
      if (Math.abs(newest[0] - ready) > 150) {
        notes.add(
            String.format(
                "time told at %.0f: %.0f [%.0f %.0f], true %d, own %d  %s",
                at, newest[0], newest[1], newest[2], ready, own, run.words()));
      }
      forecasts
          .get(w)
          .add(
              new double[] {
                newest[0] - ready,
                newest[1] - 1 <= ready && ready <= newest[2] + 1 ? 1 : 0,
                newest[2] - newest[1],
                own < 0 ? Double.NaN : newest[0] - own,
                own < 0 ? Double.NaN : newest[1] - 1 <= own && own <= newest[2] + 1 ? 1 : 0
              });
    }
  }

  void print(String name, boolean withNotes) {
    System.out.printf(
        Locale.ROOT,
        "%s: %d runs, harmful %d, stays %d, entries %d (moving %d, worst %.4f), delay %s, avail"
            + " %.3f, never %d of %d, changes/h %.1f, cpu %.1f us/s%n",
        name,
        runs,
        harmfulRuns,
        harmfulStays,
        entries,
        movingEntries,
        worstEntry,
        quantile(delays, 0.5) + "/" + quantile(delays, 0.9),
        available.stream().mapToDouble(d -> d).average().orElse(Double.NaN),
        never,
        could,
        changes / (double) runs,
        1e6 * cpuS / seconds);
    System.out.printf(
        Locale.ROOT,
        "   shift coverage %.3f, near settled %.3f, median half width %.5f%n",
        covered / (double) told,
        coveredLate / (double) toldLate,
        quantileD(halves, 0.5));
    for (int w = 0; w < WAY.length; w++) {
      List<double[]> f = forecasts.get(w);
      System.out.printf(
          Locale.ROOT,
          "   at %d %%: %d of %d, |error| %s signed %s coverage %.2f width %s; own: |error| %s"
              + " signed %s coverage %.2f%n",
          WAY[w],
          f.size(),
          asked[w],
          quantile(f.stream().map(x -> Math.abs(x[0])).toList(), 0.5),
          quantile(f.stream().map(x -> x[0]).toList(), 0.5),
          f.stream().mapToDouble(x -> x[1]).average().orElse(Double.NaN),
          quantile(f.stream().map(x -> x[2]).toList(), 0.5),
          quantile(own(f, 3).stream().map(Math::abs).toList(), 0.5),
          quantile(own(f, 3), 0.5),
          own(f, 4).stream().mapToDouble(x -> x).average().orElse(Double.NaN));
    }
    reliability.print();
    if (withNotes) {
      notes.forEach(n -> System.out.println("      " + n));
    }
  }

  private static List<Double> own(List<double[]> f, int k) {
    return f.stream().map(x -> x[k]).filter(x -> !Double.isNaN(x)).toList();
  }

  private static long quantile(List<Double> values, double p) {
    return Math.round(quantileD(values, p));
  }

  private static double quantileD(List<Double> values, double p) {
    if (values.isEmpty()) {
      return Double.NaN;
    }
    double[] sorted = values.stream().mapToDouble(d -> d).toArray();
    Arrays.sort(sorted);
    double at = p * (sorted.length - 1);
    int low = (int) at;
    int high = Math.min(low + 1, sorted.length - 1);
    return sorted[low] == sorted[high]
        ? sorted[low]
        : sorted[low] + (at - low) * (sorted[high] - sorted[low]);
  }
}
