package soakbench.api.health;

import java.util.Optional;
import soakbench.store.connection.Writer;

/**
 * How far the service is: starting, at work, standing still, or stopping; and whether it writes or
 * only reads what another writes. Told by who runs it, asked by every call. For any thread.
 */
public final class Standing {

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
  private volatile Writer writer;

  private Standing(String doing) {
    this.doing = doing;
    this.answering = doing == null;
  }

  /** One that starts; until it answers, every call says so. */
  public static Standing starting() {
    return new Standing("starting");
  }

  /** One that is at work already. */
  public static Standing ready() {
    return new Standing(null);
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
   * It reads what another writes. To be told again and again, so that no call has to ask the
   * database.
   *
   * @param who that other one; empty for nobody
   */
  public void readsOnly(Optional<Writer> who) {
    writer = who.orElse(null);
    readsOnly = true;
  }

  /** It writes. */
  public void writes() {
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

  /** Who writes, as last heard, where this one only reads. */
  Optional<Writer> writer() {
    return Optional.ofNullable(writer);
  }
}
