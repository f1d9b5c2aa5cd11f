/** Alarms as a list, in the log and posted to an address. */
package soakbench.api.alarms;
