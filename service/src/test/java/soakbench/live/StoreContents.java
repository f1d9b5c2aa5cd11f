package soakbench.live;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import soakbench.live.memory.MemoryStore;
import soakbench.live.watch.SoakWatch;
import soakbench.model.Bin;
import soakbench.model.Limits;
import soakbench.model.Sample;
import soakbench.model.Soak;
import soakbench.model.StateChange;
import soakbench.readiness.Readiness;

/** What a store holds of one tracker when all is said. */
public record StoreContents(
    List<Soak> soaks, Map<String, List<StateChange>> timelines, List<Bin> bins) {

  public static StoreContents of(SoakStore store, String tracker) {
    try (SoakStore.Unit unit = store.begin()) {
      List<Soak> soaks = unit.soaks(tracker, Long.MIN_VALUE);
      Map<String, List<StateChange>> timelines = new LinkedHashMap<>();
      soaks.forEach(s -> timelines.put(s.id(), unit.timeline(s.id())));
      return new StoreContents(
          soaks, timelines, unit.bins(tracker, Long.MIN_VALUE, Long.MAX_VALUE));
    }
  }

  /** What an undisturbed replay of these samples keeps. */
  public static StoreContents replayed(List<Sample> samples) {
    MemoryStore store = new MemoryStore();
    SoakWatch watch = new SoakWatch(store, Limits.DEFAULT, () -> 0);
    watch.accept(samples);
    watch.finish();
    return of(store, samples.get(0).tracker());
  }

  public List<StateChange> timeline(int soak) {
    return timelines.get(soaks.get(soak).id());
  }

  /** The same with no change marked as revised. */
  Map<String, List<StateChange>> unmarked() {
    Map<String, List<StateChange>> out = new LinkedHashMap<>();
    timelines.forEach(
        (soak, changes) ->
            out.put(
                soak,
                changes.stream().map(c -> new StateChange(c.timeUs(), c.state(), false)).toList()));
    return out;
  }

  public void isSameAs(StoreContents other) {
    assertThat(timelines).isEqualTo(other.timelines);
    assertThat(soaks).isEqualTo(other.soaks);
    sameBins(other);
  }

  public void isSameButForMarksAs(StoreContents other) {
    assertThat(unmarked()).isEqualTo(other.unmarked());
    assertThat(soaks).isEqualTo(other.soaks);
    sameBins(other);
  }

  private void sameBins(StoreContents other) {
    for (int i = 0; i < Math.min(bins.size(), other.bins.size()); i++) {
      assertThat(text(bins.get(i))).isEqualTo(text(other.bins.get(i)));
    }
    assertThat(bins.size()).isEqualTo(other.bins.size());
  }

  private static String text(Bin b) {
    return String.join(
        " ",
        b.tracker() + " " + b.second() + " " + b.firstUs() + " " + b.lastUs() + " " + b.boot(),
        b.temperatureC() + " " + b.temperatureStepC() + " " + b.gyroStepDps(),
        Arrays.toString(b.gyroDps()) + Arrays.toString(b.accelG()));
  }

  public static void sameVerdict(Readiness one, Readiness other) {
    assertThat(one).usingRecursiveComparison().isEqualTo(other);
  }
}
