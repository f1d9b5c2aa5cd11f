/** Calibrations that were detected, and people's reports of them. */
package soakbench.api.calibrations;
