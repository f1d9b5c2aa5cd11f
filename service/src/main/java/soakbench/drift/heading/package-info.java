/** What bias and noise cost in heading. */
package soakbench.drift.heading;
