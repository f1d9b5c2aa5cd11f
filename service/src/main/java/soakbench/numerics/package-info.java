/**
 * What a good library lacks: arrays in, records out, no word about trackers. Built on Hipparchus.
 */
package soakbench.numerics;
