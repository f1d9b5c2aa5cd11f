/** Seconds at rest, and the bias blocks that they make. */
package soakbench.drift.still;
