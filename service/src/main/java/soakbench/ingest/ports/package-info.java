/** Lines from serial ports, named or found. */
package soakbench.ingest.ports;
