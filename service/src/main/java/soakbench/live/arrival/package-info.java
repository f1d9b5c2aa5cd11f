/**
 * Heat and silence by what arrived last, whatever its stamp says; laid over the verdicts of the
 * soaks.
 */
package soakbench.live.arrival;
