package soakbench.live.arrival;

/**
 * Receives every reading the moment it arrives, by whichever input, before it is stored and even
 * where its timestamp can't be used: heat is judged on what arrived last, whatever a timestamp
 * says.
 */
@FunctionalInterface
public interface ArrivalListener {
  /** For a program that monitors nothing, like a replay. */
  ArrivalListener NOBODY = arrival -> {};

  /** Called on the reading thread: must return at once, must not throw; thread-safe. */
  void heard(Arrival arrival);
}
