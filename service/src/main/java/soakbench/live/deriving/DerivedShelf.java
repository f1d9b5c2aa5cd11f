package soakbench.live.deriving;

import java.util.List;
import java.util.Optional;
import java.util.Set;
import soakbench.live.SoakStore;
import soakbench.live.StoreException;

/**
 * Where one kind of thing is kept that is derived of every soak, with the version of the program
 * and the state of the soak that it is of. Failures are {@link StoreException}.
 *
 * @param <T> what is derived of a soak
 */
public interface DerivedShelf<T> {
  /**
   * Soaks of which it is to be derived, the newest first.
   *
   * @param version what was derived by another version is out of date
   * @param most so many at most
   * @param not leaves out these
   */
  List<String> due(int version, int most, Set<String> not);

  /** One soak, due or not; empty where there is none of this id, or none to derive it of. */
  Optional<DueSoak> soak(String soak);

  /** What else it is derived from. */
  SoakStore.Look look();

  /** What is kept of a soak; empty where nothing is, or nothing that can be read. */
  Optional<T> kept(String soak);

  /**
   * Keeps what was derived, in place of what was kept before.
   *
   * @param due as it was read before deriving
   * @param waits whether more that is heard may change it while the soak's basis stays
   * @return whether it is kept; false where the soak is gone, or the writer's word counts more
   */
  boolean keep(DueSoak due, int version, T derived, boolean waits);
}
