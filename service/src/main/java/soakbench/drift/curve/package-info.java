/** Bias against temperature. */
package soakbench.drift.curve;
