package soakbench.thermal.cooling;

import java.io.Serializable;

/**
 * One second as a cooling is read from it.
 *
 * @param tS its middle, s since the soak began
 * @param temperatureC mean temperature, degC
 * @param biasDps mean rates, deg/s, x y z; null where it had none
 * @param moved whether it was moved
 */
public record CoolingSecond(double tS, double temperatureC, double[] biasDps, boolean moved)
    implements Serializable {}
