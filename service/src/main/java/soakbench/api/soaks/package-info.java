/** Soaks, their bins and their samples. */
package soakbench.api.soaks;
