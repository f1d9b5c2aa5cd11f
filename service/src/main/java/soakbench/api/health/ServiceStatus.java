package soakbench.api.health;

import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import soakbench.model.RackSet;
import soakbench.store.connection.Lease;

/**
 * The status of the service: starting, ready, stalled, or stopping; and whether it writes or only
 * reads what another writes. Set by the running service, read by every call. Thread-safe.
 */
public final class ServiceStatus {

  /**
   * Something that keeps the service from its work.
   *
   * @param why one sentence without its full stop
   * @param sinceUs since when, microseconds since 1970
   */
  public record Trouble(String why, long sinceUs) {}

  private volatile String doing;
  private volatile boolean answering;
  private volatile boolean readsOnly;
  private volatile boolean stopping;
  private volatile Trouble trouble;
  private volatile List<Lease> writers = List.of();
  private volatile RackSet racks = RackSet.ALL;

  private ServiceStatus(String doing) {
    this.doing = doing;
    this.answering = doing == null;
  }

  /** Starting; until it answers, every call says so. */
  public static ServiceStatus starting() {
    return new ServiceStatus("starting");
  }

  /** Ready. */
  public static ServiceStatus ready() {
    return new ServiceStatus(null);
  }

  /**
   * @param step what is being done, in a few words: "restoring soaks 3 of 12"
   */
  public void doing(String step) {
    doing = step;
  }

  /** Calls are answered from now on, though it is not well yet. */
  public void answers() {
    answering = true;
  }

  /** The start is done. */
  public void done() {
    answering = true;
    doing = null;
  }

  /**
   * It reads what another writes. To be called periodically, so that no call has to query the
   * database.
   *
   * @param who those that write; empty for nobody
   */
  public void readsOnly(List<Lease> who) {
    writers = List.copyOf(who);
    readsOnly = true;
  }

  /**
   * It writes.
   *
   * @param forRacks for these
   */
  public void writes(RackSet forRacks) {
    racks = forRacks;
    readsOnly = false;
  }

  /** Takes no more samples. */
  public void stops() {
    stopping = true;
  }

  /**
   * @param now what keeps it from judging; null for nothing
   */
  public void trouble(Trouble now) {
    trouble = now;
  }

  Optional<String> step() {
    return Optional.ofNullable(doing);
  }

  public boolean isAnswering() {
    return answering;
  }

  boolean isReadOnly() {
    return readsOnly;
  }

  public boolean isStopping() {
    return stopping;
  }

  Optional<Trouble> trouble() {
    return Optional.ofNullable(trouble);
  }

  /** Who writes, in words, as last heard, where this one only reads. */
  Optional<String> writer() {
    List<Lease> now = writers;
    return now.isEmpty()
        ? Optional.empty()
        : Optional.of(now.stream().map(Lease::words).collect(Collectors.joining("; ")));
  }

  /** For which racks it writes, where it does. */
  RackSet racks() {
    return racks;
  }
}
