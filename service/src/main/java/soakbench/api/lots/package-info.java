/** Lots, their comparison, and the screening of their units. */
package soakbench.api.lots;
