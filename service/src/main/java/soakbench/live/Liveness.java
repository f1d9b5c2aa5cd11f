package soakbench.live;

import java.util.OptionalLong;

/** Says of whom something is being measured now, however wrong the clocks are. For any thread. */
@FunctionalInterface
public interface Liveness {
  /**
   * Where the tracker's own time stands, if what arrives of it was measured just now.
   *
   * @return the newest stamp that arrived, microseconds since 1970, which may lie before older ones
   *     where its clock was set back; empty where nothing arrives any more, or only recordings of
   *     the past do
   */
  OptionalLong streamUs(String tracker);
}
