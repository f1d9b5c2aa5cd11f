/** Tables as rows: how they are read and written. */
package soakbench.store.rows;
