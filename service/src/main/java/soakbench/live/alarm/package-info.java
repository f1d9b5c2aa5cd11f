/** Alarms: raised, held, seen, ended. */
package soakbench.live.alarm;
