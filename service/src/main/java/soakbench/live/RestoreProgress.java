package soakbench.live;

/** Receives the progress of restoring the stored soaks. */
@FunctionalInterface
public interface RestoreProgress {
  /** Reports to nobody. */
  RestoreProgress UNHEARD = (done, of) -> {};

  /**
   * Called before each soak; must return at once.
   *
   * @param done how many are restored
   * @param of how many there are
   */
  void reached(int done, int of);
}
