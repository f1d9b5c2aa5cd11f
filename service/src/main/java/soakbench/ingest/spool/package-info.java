/** A file that keeps samples until they are stored; from here on nothing is lost. */
package soakbench.ingest.spool;
