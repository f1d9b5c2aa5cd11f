/** Recordings that people bring in and take out again; trackers recorded under a wrong id. */
package soakbench.api.imports;
