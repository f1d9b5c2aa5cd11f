package soakbench.drift;

import soakbench.model.Estimate;

/**
 * What a calibration at one temperature costs in use at another, from the axis that moves most.
 *
 * @param calibratedC temperature of the calibration, degC, or null
 * @param useC temperature in use, degC
 * @param degPerMin heading error rate, deg/min
 * @param minutesTo5Deg minutes until five degrees of error
 */
public record Heading(
    Double calibratedC, double useC, Estimate degPerMin, Estimate minutesTo5Deg) {}
