/** Alarms: raised, held, acknowledged, ended. */
package soakbench.live.alarm;
