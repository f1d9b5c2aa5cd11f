/** Figures of a soak, and keeping them up to date. */
package soakbench.live.figures;
