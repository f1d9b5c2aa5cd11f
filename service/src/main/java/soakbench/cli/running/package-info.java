/** A running service or agent: its parts, its threads, its end. */
package soakbench.cli.running;
