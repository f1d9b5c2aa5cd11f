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
  private final UploadScheduler scheduler;
  private final UploadResult result;
  private final List<Sample> samples = new ArrayList<>();
  private final Set<String> trackers = new HashSet<>();
  private boolean partOfMore;

  UploadBatch(UploadScheduler scheduler, UploadResult result) {
    this.scheduler = scheduler;
    this.result = result;
  }

  @Override
  public void accept(Sample sample) {
    boolean another = !trackers.contains(sample.tracker());
    int cost =
        samples.size()
            + 1
            + UploadScheduler.SAMPLES_A_TRACKER * (trackers.size() + (another ? 1 : 0));
    if (cost > scheduler.mostCost() && !samples.isEmpty()) {
      partOfMore = true;
      store();
    }
    samples.add(sample);
    trackers.add(sample.tracker());
  }

  /** Stores what is gathered. */
  void store() {
    if (!samples.isEmpty()) {
      SampleSink.Outcome outcome = scheduler.store(List.copyOf(samples), partOfMore);
      samples.clear();
      trackers.clear();
      partOfMore = true;
      result.add(outcome);
    }
  }
}
