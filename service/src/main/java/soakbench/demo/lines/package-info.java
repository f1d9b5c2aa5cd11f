/** What a simulated unit writes, faults included. */
package soakbench.demo.lines;
