/** How long samples are kept: which go, what would go, and their removal, piece by piece. */
package soakbench.store.retention;
