/**
 * Heat and silence by what arrived last, whatever its timestamp says; overlaid on the verdicts of
 * the soaks.
 */
package soakbench.live.arrival;
