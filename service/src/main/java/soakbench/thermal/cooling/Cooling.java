package soakbench.thermal.cooling;

import java.io.Serializable;
import java.util.Arrays;

/**
 * How a warm tracker's temperature fell after it was uncovered and left still, second by second
 * from the moment at which the fall began to show.
 *
 * @param startS that moment, s since the soak began
 * @param startC temperature then, degC
 * @param dropC how far it had fallen 0, 1, 2 … seconds later, degC; the first is 0
 * @param rateCPerS how fast it fell then, degC/s; as many
 * @param dropSdC standard deviation of a drop, degC
 * @param rateSdCPerS standard deviation of a rate, degC/s
 */
public record Cooling(
    double startS,
    double startC,
    double[] dropC,
    double[] rateCPerS,
    double dropSdC,
    double rateSdCPerS)
    implements Serializable {

  /** Seconds recorded. */
  public int lengthS() {
    return dropC.length - 1;
  }

  /** The deepest drop recorded, degC. */
  public double deepestC() {
    return Arrays.stream(dropC).max().orElse(0);
  }
}
