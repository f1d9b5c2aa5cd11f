package soakbench.api.events;

import java.io.IOException;
import java.util.concurrent.ConcurrentHashMap;
import soakbench.api.http.Problem;
import soakbench.api.http.ProblemException;

/** Bounds the event streams of one client, so that none takes the places of all others. */
public final class EventShares {
  private final int most;
  private final ConcurrentHashMap<String, Integer> open = new ConcurrentHashMap<>();

  EventShares(int most) {
    this.most = most;
  }

  /** What a stream does until it ends. */
  interface Stream {
    void run() throws IOException;
  }

  /**
   * Runs a stream.
   *
   * @throws ProblemException 429 if the client has its share already
   */
  void with(String client, Stream stream) throws IOException {
    try {
      if (open.merge(client, 1, Integer::sum) > most) {
        throw new ProblemException(
            Problem.Kind.TOO_MANY_REQUESTS,
            "This client listens " + most + " times already, and more is not given to one.");
      }
      stream.run();
    } finally {
      open.computeIfPresent(client, (key, count) -> count == 1 ? null : count - 1);
    }
  }
}
