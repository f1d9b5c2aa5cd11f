/** Rows that are derived from the samples, and which of them are due. */
package soakbench.store.derived;
