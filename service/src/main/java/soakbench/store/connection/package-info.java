/** Connections, the right to write, and the schema. */
package soakbench.store.connection;
