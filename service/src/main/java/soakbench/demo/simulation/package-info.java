/** Recipes for whole recordings, and the truth beside them. */
package soakbench.demo.simulation;
