/** What the program needs of the computer it runs on: threads, waiting, files for it alone. */
package soakbench.host;
