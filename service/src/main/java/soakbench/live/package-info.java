/**
 * Samples per tracker in event time. Here is what its folders share: the clocks, the sink of
 * samples, the listeners, and the store as an interface.
 */
package soakbench.live;
