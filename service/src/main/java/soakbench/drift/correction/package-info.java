/** Rates that the tracker has corrected inside, recognised. */
package soakbench.drift.correction;
