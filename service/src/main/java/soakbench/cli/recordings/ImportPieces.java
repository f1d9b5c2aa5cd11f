package soakbench.cli.recordings;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import soakbench.ingest.sending.Destination;
import soakbench.ingest.sending.Destination.Receipt;
import soakbench.live.SampleSink.Outcome;
import soakbench.live.StoreException;
import soakbench.model.Sample;

/** Sends the samples of one recording in pieces, each until it is acknowledged. Not thread-safe. */
final class ImportPieces {
  /** Some megabytes of lines, far below what a request may hold. */
  private static final int PIECE = 20_000;

  private final Destination destination;
  private final Runnable check;
  private final Duration patience;
  private final List<Sample> waiting = new ArrayList<>(PIECE);
  private final Set<String> trackers = new TreeSet<>();
  private Outcome outcome = new Outcome(0, 0, 0);
  private int refused;
  private String refusal;

  /**
   * @param check called before a piece is sent again; throws where that would be in vain
   * @param patience for how long a piece is sent again and again
   */
  ImportPieces(Destination destination, Runnable check, Duration patience) {
    this.destination = destination;
    this.check = check;
    this.patience = patience;
  }

  /** The service can't be reached any more. */
  static final class GoneException extends RuntimeException {
    private static final long serialVersionUID = 1L;

    GoneException(StoreException cause) {
      super(cause.getMessage(), cause);
    }
  }

  void take(Sample sample) {
    waiting.add(sample);
    trackers.add(sample.tracker());
    if (waiting.size() == PIECE) {
      flush();
    }
  }

  /**
   * Sends what waits.
   *
   * @throws GoneException if that can't be done
   */
  void flush() {
    if (waiting.isEmpty()) {
      return;
    }
    Receipt receipt = sent(List.copyOf(waiting));
    waiting.clear();
    Outcome now = receipt.outcome();
    outcome =
        new Outcome(
            outcome.accepted() + now.accepted(),
            outcome.duplicate() + now.duplicate(),
            outcome.conflicting() + now.conflicting());
    if (!receipt.refused().isEmpty()) {
      refused += receipt.refused().size();
      refusal = receipt.refused().get(0).reason();
    }
  }

  private Receipt sent(List<Sample> piece) {
    Patience left = new Patience(patience);
    while (true) {
      try {
        return destination.sendAgain(piece);
      } catch (StoreException e) {
        if (!left.waits()) {
          throw new GoneException(e);
        }
        check.run();
      } catch (InterruptedException e) {
        Thread.currentThread().interrupt();
        throw new GoneException(new StoreException("interrupted", e, true));
      }
    }
  }

  Outcome outcome() {
    return outcome;
  }

  Set<String> trackers() {
    return trackers;
  }

  /** What the service refused, in words; null for nothing. */
  String refusal() {
    return refused == 0 ? null : refused + " samples were refused: " + refusal;
  }
}
