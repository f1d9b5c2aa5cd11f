package soakbench.live.deriving;

import soakbench.live.EventClock;

/**
 * Keeps something of every soak up to date beside the soak. It is derived from the bins, apart from
 * the writing of samples: of what changed it is noted that it may be out of date, and whether it is
 * so is found by comparing, all of it at the start, so nothing is missed by a crash.
 *
 * @param <T> what is derived of a soak
 */
public abstract class Keeper<T> {
  private final DerivedShelf<T> shelf;
  private final int version;
  private final int atATime;
  private final Deriving deriving;

  /**
   * @param what is derived, for the log
   * @param version what was derived by another is out of date
   * @param atATime so many soaks in one round
   * @param clock dates what fails
   */
  public Keeper(String what, DerivedShelf<T> shelf, int version, int atATime, EventClock clock) {
    this.shelf = shelf;
    this.version = version;
    this.atATime = atATime;
    this.deriving = new Deriving(what, clock);
  }

  /**
   * Derives it of some soaks that need it; those that fail are told by {@link #deriving}.
   *
   * @return how many were tried; fewer than at a time when nothing more is due
   */
  public int deriveDue() {
    return deriving.derive(
        atATime,
        not -> shelf.due(version, atATime, not),
        soak -> shelf.soak(soak).ifPresent(this::derive));
  }

  /** Where it is kept, and what it is derived from. */
  protected final DerivedShelf<T> shelf() {
    return shelf;
  }

  /** Derives and keeps it. */
  protected abstract void derive(DueSoak due);

  /** How it goes. */
  public final Deriving deriving() {
    return deriving;
  }
}
