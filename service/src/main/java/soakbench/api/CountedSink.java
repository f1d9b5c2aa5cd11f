package soakbench.api;

import java.util.List;
import java.util.concurrent.atomic.LongAdder;
import soakbench.live.Sink;
import soakbench.model.Sample;

/** Counts what became of the samples that came in, from ports as from uploads. */
final class CountedSink implements Sink {
  final LongAdder accepted = new LongAdder();
  final LongAdder duplicate = new LongAdder();
  final LongAdder conflicting = new LongAdder();
  private final Sink inner;

  CountedSink(Sink inner) {
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
