/** What a simulated unit writes, dirt included. */
package soakbench.demo.lines;
