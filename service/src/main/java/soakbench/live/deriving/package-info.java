/** What is derived from stored bins apart from the writer: one soak at a time, failures alone. */
package soakbench.live.deriving;
