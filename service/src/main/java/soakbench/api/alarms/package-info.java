/** Alarms as a list, in the log and by webhook. */
package soakbench.api.alarms;
