/** What every source of lines has in common, a recording among them. */
package soakbench.ingest.source;
