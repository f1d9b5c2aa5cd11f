package soakbench.live;

import java.util.List;
import soakbench.live.watch.SoakWatch;
import soakbench.model.Sample;

/** Where samples go: into this process' {@link SoakWatch}, as they are or changed on their way. */
@FunctionalInterface
public interface SampleSink {

  /**
   * Takes samples; when it returns they are stored for good.
   *
   * @throws StoreException if nothing of them was stored; sending the same samples again is
   *     harmless
   */
  Outcome accept(List<Sample> samples);

  /**
   * How many samples were new, there already with the same values, there already with other values.
   */
  record Outcome(int accepted, int duplicate, int conflicting) {
    /** Of both together. */
    public Outcome plus(Outcome other) {
      return new Outcome(
          accepted + other.accepted, duplicate + other.duplicate, conflicting + other.conflicting);
    }
  }
}
