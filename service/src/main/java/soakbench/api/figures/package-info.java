/** Curves and tables of figures. */
package soakbench.api.figures;
