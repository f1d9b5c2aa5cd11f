package soakbench.readiness.estimator;

import java.io.Serializable;

/**
 * Ten seconds of one tracker.
 *
 * @param endS its end, s since the soak began
 * @param reading what the thermometer says; null where nothing still was heard
 * @param biasDps mean rates at rest, deg/s, x y z
 * @param variance of each from white noise, (deg/s)^2; infinite where not known
 * @param unheardS how long nothing was heard before it or in it, s
 * @param moved whether it was moved in it, or between it and the block before
 * @param booted whether it was off since the block before
 */
record Block(
    double endS,
    Reading reading,
    double[] biasDps,
    double[] variance,
    double unheardS,
    boolean moved,
    boolean booted)
    implements Serializable {

  boolean counts() {
    return reading != null;
  }
}
