package soakbench.demo;

import java.nio.file.Path;

/**
 * One position of the demo's racks.
 *
 * @param rack the bench
 * @param slot its name
 * @param port the port to open; while its cable is pulled there is nothing at this path
 * @param tracker id of the tracker that lies there
 */
public record DemoSlot(String rack, String slot, Path port, String tracker) {}
