/** Lines over UDP and TCP. */
package soakbench.ingest.net;
