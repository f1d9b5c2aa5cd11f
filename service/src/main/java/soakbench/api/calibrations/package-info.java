/** Calibrations that were seen, and what people say of them. */
package soakbench.api.calibrations;
