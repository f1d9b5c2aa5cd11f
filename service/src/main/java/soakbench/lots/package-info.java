/** Figures of trackers from all their soaks, and their comparison; nothing of files or clocks. */
package soakbench.lots;
