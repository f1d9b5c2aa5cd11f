/** Allan deviation and what is read from it. */
package soakbench.drift.noise;
