package soakbench.api.access;

import java.util.concurrent.ConcurrentHashMap;

/** Counts how much of something each client has now, and bounds it. Thread-safe. */
public final class ClientQuota {
  private final int most;
  private final ConcurrentHashMap<String, Integer> taken = new ConcurrentHashMap<>();

  /**
   * @param most what one client may have at once
   */
  public ClientQuota(int most) {
    this.most = most;
  }

  /**
   * Takes one more for a client, as {@link RequestLimiter#client} tells them apart.
   *
   * @return false, and nothing is taken, where it has its share already
   */
  public boolean take(String client) {
    if (taken.merge(client, 1, Integer::sum) <= most) {
      return true;
    }
    giveBack(client);
    return false;
  }

  /** Gives back what was taken once. */
  public void giveBack(String client) {
    taken.computeIfPresent(client, (key, count) -> count == 1 ? null : count - 1);
  }
}
