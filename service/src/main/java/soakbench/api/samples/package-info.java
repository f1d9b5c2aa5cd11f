/** Samples that are posted: read, bounded, monitored for heat and stored. */
package soakbench.api.samples;
