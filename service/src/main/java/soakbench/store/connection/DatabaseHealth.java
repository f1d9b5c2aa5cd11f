package soakbench.store.connection;

/**
 * The health of the database.
 *
 * @param ok whether it answered in time
 * @param kind {@code embedded} for our own server, {@code given} for one by address
 * @param hypertables whether samples and bins are TimescaleDB hypertables
 * @param serverVersion version of the server; null where it did not answer
 * @param message one line for people
 */
public record DatabaseHealth(
    boolean ok, String kind, boolean hypertables, String serverVersion, String message) {}
