package soakbench.drift.still;

import java.io.Serializable;

/**
 * Mean bias over half a minute of lying still in one pose.
 *
 * @param midS its middle, s since the soak began
 * @param widthS seconds of still readings in it
 * @param temperatureC mean temperature, degC
 * @param biasDps mean rates, deg/s, x y z
 * @param segment counts poses and boots; each has its own offset of bias
 */
public record BiasBlock(
    double midS, double widthS, double temperatureC, double[] biasDps, int segment)
    implements Serializable {}
