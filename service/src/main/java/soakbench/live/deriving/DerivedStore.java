package soakbench.live.deriving;

import java.util.List;
import java.util.Optional;
import java.util.Set;
import soakbench.live.SoakStore;
import soakbench.live.StoreException;

/**
 * Where one kind of figures derived from every soak is stored, with the version of the deriving
 * code and the state of the soak that it was derived from. Failures are {@link StoreException}.
 *
 * @param <T> what is derived of a soak
 */
public interface DerivedStore<T> {
  /**
   * Soaks whose figures are missing or out of date, the newest first.
   *
   * @param version what was derived by another version is out of date
   * @param most so many at most
   * @param not leaves out these
   */
  List<String> outdated(int version, int most, Set<String> not);

  /**
   * What a soak's figures are derived from; empty where there is no soak of this id, or none to
   * derive them from.
   */
  Optional<DerivationInput> input(String soak);

  /** Reads the bins that they are derived from. */
  SoakStore.Reader reader();

  /** What is stored of a soak; empty where nothing is, or nothing that can be read. */
  Optional<T> find(String soak);

  /**
   * Stores what was derived, in place of what was stored before.
   *
   * @param input as it was read before deriving
   * @param waits whether more samples may change it while the soak's basis stays
   * @return whether it is stored; false where the soak is gone, or the writer has replaced it
   */
  boolean put(DerivationInput input, int version, T derived, boolean waits);
}
