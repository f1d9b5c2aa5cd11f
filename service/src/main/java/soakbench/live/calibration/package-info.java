/** Calibrations found in stored bins. */
package soakbench.live.calibration;
