/**
 * The agent: ports and sockets in, a spool that survives anything between, a service or an address
 * out. {@link soakbench.ingest.Agent} wires it.
 */
package soakbench.ingest;
