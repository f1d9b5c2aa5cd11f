/** The temperature side: warm-up curves, breaks in them, and where they are heading. */
package soakbench.thermal;
