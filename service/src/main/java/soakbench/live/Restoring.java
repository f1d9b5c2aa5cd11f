package soakbench.live;

/** Hears how far taking up the stored soaks has come. */
@FunctionalInterface
public interface Restoring {
  /** For who does not ask. */
  Restoring UNHEARD = (done, of) -> {};

  /**
   * Called before each soak; must return at once.
   *
   * @param done how many are taken up
   * @param of how many there are
   */
  void reached(int done, int of);
}
