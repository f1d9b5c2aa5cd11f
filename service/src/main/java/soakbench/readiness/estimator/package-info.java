/**
 * One estimator a tracker: what is known of its heat, its room and its axes, and what follows for
 * ready and for the expected time.
 */
package soakbench.readiness.estimator;
