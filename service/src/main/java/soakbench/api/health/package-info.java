/** Whether the service is well, its ports and its metrics. */
package soakbench.api.health;
