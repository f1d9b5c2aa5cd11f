/**
 * The program: its list of commands and how it fails. Commands, their options and what runs behind
 * them have a folder each.
 */
package soakbench.cli;
