/** Rows that are derived from the samples, and which of them are out of date. */
package soakbench.store.derived;
