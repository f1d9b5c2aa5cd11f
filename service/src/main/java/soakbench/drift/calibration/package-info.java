/** Poses and turns: a calibration seen, and the rate that it left. */
package soakbench.drift.calibration;
