package soakbench.readiness;

import java.io.Serializable;
import java.util.Collections;
import java.util.List;
import soakbench.model.Estimate;

/**
 * How long a tracker may lie uncovered.
 *
 * @param timeS until some axis' bias has moved by the shift limit, s. {@code low} is the time to
 *     keep to; {@code high} is null where the recorded cooling was over before, so that it is at
 *     least so long
 * @param spreadDps greatest minus least bias that a calibration in the open would see, deg/s, x y z
 * @param source whose cooling it was read from: {@link #OWN}, {@link #MATES}, or null
 * @param reason why nothing is known; null where something is
 */
public record Unwrapped(Estimate timeS, List<Estimate> spreadDps, String source, String reason)
    implements Serializable {
  public static final String OWN = "this tracker";
  public static final String MATES = "rack and lot";

  /** What to do where nothing is known. */
  public static final String UNCOVER_ONE =
      "not known: uncover one and leave it still for five minutes";

  /** Nothing is known, and why. */
  public static Unwrapped unknown(String reason) {
    Estimate none = Estimate.unknown(reason);
    return new Unwrapped(none, Collections.nCopies(3, none), null, reason);
  }
}
