/** Who a line is from and when it was measured: device clocks, ids, duplicates, order. */
package soakbench.ingest.identity;
