package soakbench.store.connection;

import soakbench.model.RackSet;

/**
 * The right to write for a set of racks, as the database lists it.
 *
 * @param holder the program that has it
 * @param racks those of the racks that were asked about for which it writes
 */
public record Lease(Writer holder, RackSet racks) {

  /** One line for people. */
  public String words() {
    return racks.all() || racks.racks().isEmpty()
        ? holder.words()
        : holder.words() + ", for " + racks.words();
  }
}
