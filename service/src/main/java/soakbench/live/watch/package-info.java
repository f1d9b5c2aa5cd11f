/**
 * Soaks cut, seconds closed into bins, the judge fed; late samples worked in beside the live ones.
 * {@link soakbench.live.watch.SoakWatch} is the entry point.
 */
package soakbench.live.watch;
