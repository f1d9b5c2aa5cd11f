package soakbench.demo;

import java.nio.file.Path;
import java.util.Optional;

/**
 * One position of the demo's racks.
 *
 * @param rack the bench
 * @param slot its name
 * @param port the serial port to open, where it has one; while its cable is pulled there is nothing
 *     at this path
 * @param tracker id of the tracker that lies there
 */
public record DemoSlot(String rack, String slot, Optional<Path> port, String tracker) {}
