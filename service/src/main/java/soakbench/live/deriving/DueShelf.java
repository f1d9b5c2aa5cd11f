package soakbench.live.deriving;

import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * Tells a {@link Keeper} of which soaks something is to be derived. Failures are {@link
 * StoreException}.
 *
 * @param <D> a soak with what it takes
 */
public interface DueShelf<D> {
  /**
   * Soaks of which it is to be derived, the newest first.
   *
   * @param version what was derived by another version is out of date
   * @param most so many at most
   * @param not leaves out these
   */
  List<String> due(int version, int most, Set<String> not);

  /** One soak, due or not; empty where there is none of this id. */
  Optional<D> soak(String soak);
}
