/** Samples and bins in TimescaleDB's chunks: moved there, compressed, put together. */
package soakbench.store.chunks;
