/** Lots of units: what each comes to, whether they differ, and which units don't fit. */
package soakbench.lots.compare;
