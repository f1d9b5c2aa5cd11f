/** What all calls share: JSON, CSV tables, parameters, problems, routes. It knows no call. */
package soakbench.api.http;
