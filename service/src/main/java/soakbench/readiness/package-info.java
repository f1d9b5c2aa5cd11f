/** What counts as ready, who is, and when the others will be. */
package soakbench.readiness;
