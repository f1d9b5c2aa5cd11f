/** Trackers: names, slots, lots and rates, as JSON and as CSV. */
package soakbench.api.roster;
