/** Objects as bytes that only the program which wrote them reads. */
package soakbench.live.kept;
