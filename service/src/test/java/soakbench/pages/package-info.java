/** The pages beside the board, in a real browser. */
package soakbench.pages;
