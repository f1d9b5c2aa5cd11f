package soakbench.live.deriving;

import soakbench.live.EventClock;

/**
 * Keeps figures derived from every soak's bins up to date, apart from the writing of samples: what
 * changed is marked as perhaps out of date, and whether it is so is found by comparing, all soaks
 * at the start, so nothing is missed by a crash.
 *
 * @param <T> what is derived of a soak
 */
public abstract class Deriver<T> {
  private final DerivedStore<T> store;
  private final int version;
  private final int atATime;
  private final DerivationRunner runner;

  /**
   * @param what is derived, for the log
   * @param version what was derived by another is out of date
   * @param atATime so many soaks in one round
   * @param clock dates what fails
   */
  public Deriver(String what, DerivedStore<T> store, int version, int atATime, EventClock clock) {
    this.store = store;
    this.version = version;
    this.atATime = atATime;
    this.runner = new DerivationRunner(what, clock);
  }

  /**
   * Derives it for some soaks that need it; those that fail are reported by {@link #runner}.
   *
   * @return how many were tried; fewer than at a time when nothing more is due
   */
  public int deriveOutdated() {
    return runner.derive(
        atATime,
        not -> store.outdated(version, atATime, not),
        soak -> store.input(soak).ifPresent(this::derive));
  }

  /** Where it is stored, and what it is derived from. */
  protected final DerivedStore<T> store() {
    return store;
  }

  /** Derives and stores it. */
  protected abstract void derive(DerivationInput input);

  /** The status. */
  public final DerivationRunner runner() {
    return runner;
  }
}
