package soakbench.ingest.identity;

import java.util.function.Consumer;
import soakbench.lines.LineCounters;

/** One source as {@link IdOwners} knows it. Thread-safe. */
public final class IdSource {
  private final String label;
  private final LineCounters counters;
  private final Consumer<String> onReboot;
  private volatile boolean gone;

  /**
   * @param label what the source is called in messages, like "slot A1 (port /dev/ttyUSB0)"
   * @param counters where its lines are counted
   * @param onReboot receives the id of a tracker that has rebooted, on the thread that read its
   *     line
   */
  public IdSource(String label, LineCounters counters, Consumer<String> onReboot) {
    this.label = label;
    this.counters = counters;
    this.onReboot = onReboot;
  }

  String label() {
    return label;
  }

  LineCounters counters() {
    return counters;
  }

  void rebooted(String tracker) {
    onReboot.accept(tracker);
  }

  /** Its port went away: another source may take over its ids at once. */
  void gone(boolean isGone) {
    gone = isGone;
  }

  boolean isGone() {
    return gone;
  }
}
