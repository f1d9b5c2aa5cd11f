/** The stream of events that keeps pages live without polling. */
package soakbench.api.events;
