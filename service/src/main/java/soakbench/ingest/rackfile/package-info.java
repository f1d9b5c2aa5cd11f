/**
 * The rack file: slots, ports, addresses and how their lines read, checked with the place of each
 * mistake.
 */
package soakbench.ingest.rackfile;
