/** A warm tracker uncovered: how it falls, and what that tells. */
package soakbench.thermal.cooling;
