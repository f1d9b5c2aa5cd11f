package soakbench.drift.curve;

/**
 * A still block as a step is looked for in it.
 *
 * @param midS its middle, s since the soak began
 * @param widthS seconds of still readings in it
 * @param temperatureC mean temperature, degC; NaN while unknown
 * @param rateCPerS how fast it changes
 * @param sinceBootS its middle, s since the last power-on that the soak shows
 * @param biasDps mean rates, deg/s, x y z
 * @param segment counts poses and boots
 */
record StepBlock(
    double midS,
    double widthS,
    double temperatureC,
    double rateCPerS,
    double sinceBootS,
    double[] biasDps,
    int segment) {}
