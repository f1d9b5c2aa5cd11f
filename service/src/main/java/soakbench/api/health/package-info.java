/** The service's health, its ports and its metrics. */
package soakbench.api.health;
