/** Authentication, and how much of the service one client may take. */
package soakbench.api.access;
