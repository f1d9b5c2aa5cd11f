/** The limits of the verdict, and a preview of what others would have said. */
package soakbench.api.limits;
