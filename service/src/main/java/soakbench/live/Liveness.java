package soakbench.live;

import java.util.OptionalLong;

/** Whether a tracker is being measured live, however wrong the clocks are. Thread-safe. */
@FunctionalInterface
public interface Liveness {
  /**
   * The tracker's own time now, if what arrives from it was measured just now.
   *
   * @return the newest stamp that arrived, microseconds since 1970, which may lie before older ones
   *     where its clock was set back; empty where nothing arrives any more, or only recordings of
   *     the past do
   */
  OptionalLong streamUs(String tracker);
}
