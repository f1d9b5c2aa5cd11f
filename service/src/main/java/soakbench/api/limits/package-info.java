/** The limits of the verdict, and a preview of other limits. */
package soakbench.api.limits;
