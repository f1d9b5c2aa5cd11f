package soakbench.live;

import java.util.List;
import java.util.Optional;
import soakbench.model.Limits;
import soakbench.model.Sample;
import soakbench.model.Soak;
import soakbench.readiness.Readiness;

/**
 * Watches all trackers in event time: cuts soaks, makes bins, judges, and stores it all. One thread
 * at a time writes; verdicts can be read from any thread.
 */
public final class SoakWatch implements Sink {

  public SoakWatch(SoakStore store, Limits limits) {
    throw new UnsupportedOperationException("being written");
  }

  /** Takes up where the store was left: judges the open soaks again from their bins. */
  public void restore() {}

  @Override
  public Outcome accept(List<Sample> samples) {
    throw new UnsupportedOperationException();
  }

  /**
   * Lets time pass without samples: closes the last bins, notices silence, and derives again what
   * late samples made out of date. Called about once a second by a live service, never by a replay.
   */
  public void tick(long nowUs) {}

  /** Ends an open soak because the tracker was taken off; the next sample begins another. */
  public Optional<Soak> end(String soak) {
    return Optional.empty();
  }

  /** The newest verdict of every tracker with an open soak, by tracker id. */
  public List<Readiness> readiness() {
    return List.of();
  }

  public Optional<Readiness> readiness(String tracker) {
    return Optional.empty();
  }

  public void subscribe(Listener listener) {}

  public Limits limits() {
    return Limits.DEFAULT;
  }
}
