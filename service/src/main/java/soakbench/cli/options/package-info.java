/** Options that commands share, and what is wrong with them in one sentence. */
package soakbench.cli.options;
