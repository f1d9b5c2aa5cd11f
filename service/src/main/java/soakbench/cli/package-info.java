/**
 * The commands. Each reads its options, wires the parts together and says what went wrong in one
 * sentence.
 */
package soakbench.cli;
