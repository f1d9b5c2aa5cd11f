package soakbench.serial;

/**
 * A serial port of this computer.
 *
 * @param path what to write into a rack file; stays the same for one USB socket only until the next
 *     plugging
 * @param description what the device calls itself, or empty
 * @param location where it's plugged in (bus and sockets), or empty
 * @param serialNumber the device's own number, or empty; clones share or lack them
 * @param vendorId USB vendor, or -1
 * @param productId USB product, or -1
 */
public record PortInfo(
    String path,
    String description,
    String location,
    String serialNumber,
    int vendorId,
    int productId) {}
