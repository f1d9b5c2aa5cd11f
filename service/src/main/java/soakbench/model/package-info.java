/**
 * The words of the trade as records: what a tracker is, what it said, what is asked of it. Nothing
 * here knows a fit, a file, a clock or a database.
 */
package soakbench.model;
