/**
 * The HTTP interface: each folder is one family of calls, from its address to its JSON and CSV;
 * {@link soakbench.api.ApiServer} puts them together.
 */
package soakbench.api;
