package soakbench.model;

/**
 * Where a tracker lies and where its IMU came from, as the roster knows it.
 *
 * @param rack the bench, or empty
 * @param lot the batch, or empty
 */
public record RackAndLot(String rack, String lot) {}
