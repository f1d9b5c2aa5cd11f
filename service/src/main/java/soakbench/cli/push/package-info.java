/** Tables posted to an address of the user, on a schedule. */
package soakbench.cli.push;
