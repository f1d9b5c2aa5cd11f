/** The store in memory, for replays and tests. */
package soakbench.live.memory;
