package soakbench.api.samples;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.function.Consumer;
import soakbench.live.SampleSink;
import soakbench.model.Sample;

/** The samples of one upload that are to be stored next. */
final class UploadBatch implements Consumer<Sample> {
  private final UploadTurns turns;
  private final UploadResult result;
  private final List<Sample> samples = new ArrayList<>();
  private final Set<String> trackers = new HashSet<>();
  private boolean partOfMore;

  UploadBatch(UploadTurns turns, UploadResult result) {
    this.turns = turns;
    this.result = result;
  }

  @Override
  public void accept(Sample sample) {
    boolean another = !trackers.contains(sample.tracker());
    int cost =
        samples.size() + 1 + UploadTurns.SAMPLES_A_TRACKER * (trackers.size() + (another ? 1 : 0));
    if (cost > turns.mostCost() && !samples.isEmpty()) {
      partOfMore = true;
      store();
    }
    samples.add(sample);
    trackers.add(sample.tracker());
  }

  /** Stores what is gathered. */
  void store() {
    if (!samples.isEmpty()) {
      SampleSink.Outcome outcome = turns.hand(List.copyOf(samples), partOfMore);
      samples.clear();
      trackers.clear();
      partOfMore = true;
      result.add(outcome);
    }
  }
}
