/** What is computed of the figures of groups of units: arrays in, records out; knows no tracker. */
package soakbench.lots.statistics;
