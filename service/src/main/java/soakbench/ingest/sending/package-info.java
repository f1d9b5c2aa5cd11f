/** From the spool to the service: in this process, or over HTTP. */
package soakbench.ingest.sending;
