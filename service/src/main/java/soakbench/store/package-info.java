/**
 * Keeps samples, bins, soaks and the roster in PostgreSQL: a server of our own in the data folder,
 * or one that is given. {@link soakbench.store.Database} is the entry point.
 */
package soakbench.store;
