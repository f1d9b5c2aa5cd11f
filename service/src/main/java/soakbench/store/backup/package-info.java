/** All that a store holds as one file, and back into an empty store of either kind. */
package soakbench.store.backup;
