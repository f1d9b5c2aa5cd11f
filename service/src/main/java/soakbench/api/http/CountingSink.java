package soakbench.api.http;

import java.util.List;
import java.util.concurrent.atomic.LongAdder;
import soakbench.live.SampleSink;
import soakbench.model.Sample;

/** Counts what became of the samples that came in, from ports as from uploads. */
public final class CountingSink implements SampleSink {
  public final LongAdder accepted = new LongAdder();
  public final LongAdder duplicate = new LongAdder();
  public final LongAdder conflicting = new LongAdder();
  private final SampleSink inner;

  public CountingSink(SampleSink inner) {
    this.inner = inner;
  }

  @Override
  public Outcome accept(List<Sample> samples) {
    Outcome outcome = inner.accept(samples);
    accepted.add(outcome.accepted());
    duplicate.add(outcome.duplicate());
    conflicting.add(outcome.conflicting());
    return outcome;
  }
}
