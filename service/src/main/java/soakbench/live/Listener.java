package soakbench.live;

import java.util.List;
import soakbench.live.watch.SoakWatch;
import soakbench.readiness.Readiness;

/**
 * Receives the verdicts of {@link SoakWatch}. Called on the writing thread after the commit: must
 * return at once.
 */
public interface Listener {

  /**
   * Trackers whose verdict is new since the last call.
   *
   * @param verdicts the newest verdict of each, once per tracker
   */
  void judged(List<Readiness> verdicts);
}
