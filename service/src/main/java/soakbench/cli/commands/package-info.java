/** The commands. Each reads its options and wires the parts together. */
package soakbench.cli.commands;
