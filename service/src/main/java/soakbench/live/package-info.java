/**
 * Samples per tracker in event time: soaks are cut, bins made, verdicts reached and figures derived
 * here; the store is an interface. A replay runs the very same classes over a store in memory.
 */
package soakbench.live;
