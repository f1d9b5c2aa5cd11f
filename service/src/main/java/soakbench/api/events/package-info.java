/** The stream of events that keeps pages live without asking again. */
package soakbench.api.events;
