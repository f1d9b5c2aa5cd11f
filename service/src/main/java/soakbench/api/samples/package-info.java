/** Samples that are posted: read, bounded, told to the watch over heat and stored. */
package soakbench.api.samples;
