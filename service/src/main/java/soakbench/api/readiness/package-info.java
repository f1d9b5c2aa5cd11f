/** The verdict on each tracker, now. */
package soakbench.api.readiness;
