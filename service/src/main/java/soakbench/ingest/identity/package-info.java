/** Who a line is from and when it was read: clocks of devices, ids, doubles, order. */
package soakbench.ingest.identity;
