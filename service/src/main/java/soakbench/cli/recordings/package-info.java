/**
 * Recordings on the command line: which files are meant, how far the work is, a service to bring
 * them to.
 */
package soakbench.cli.recordings;
