/** The server of our own: its data folder, its processes, its start and its end. */
package soakbench.store.server;
