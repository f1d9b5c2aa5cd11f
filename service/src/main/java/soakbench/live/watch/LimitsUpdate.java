package soakbench.live.watch;

import java.util.List;
import soakbench.live.EventClock;
import soakbench.live.SoakStore;
import soakbench.model.Limits;
import soakbench.model.LimitsChange;
import soakbench.model.Soak;
import soakbench.model.SoakTerms;

/** Changes the limits in force, within one unit of work. */
final class LimitsUpdate {
  private final SoakStore.Unit unit;
  private final SoakContext context;
  private final Limits after;
  private final EventClock clock;

  LimitsUpdate(SoakStore.Unit unit, SoakContext context, Limits after, EventClock clock) {
    this.unit = unit;
    this.context = context;
    this.after = after;
    this.clock = clock;
  }

  /**
   * The soaks under way that are judged by other limits. One of another service's trackers may be
   * gone by the time that its terms are read: it is derived again there, by those in force.
   */
  List<Soak> judgedByOthers() {
    return unit.lastSoaks().stream()
        .filter(Soak::open)
        .filter(soak -> unit.terms(soak.id()).filter(t -> !t.limits().equals(after)).isPresent())
        .toList();
  }

  /**
   * Writes the limits that hold from now on, where they are new; returns since when they hold.
   *
   * @param forSoaks whether they hold for the soaks under way as well
   */
  long write(Limits before, boolean forSoaks) {
    if (!after.equals(before)) {
      unit.addLimits(new LimitsChange(clock.nowUs(), LimitsChange.Origin.HTTP, after));
    }
    if (forSoaks) {
      unit.limitsForSoaks();
    }
    return unit.newestLimits().orElseThrow().sinceUs();
  }

  /**
   * The watch of a tracker whose open soak is judged again.
   *
   * @param heardAtUs when its newest sample came, by the live clock
   */
  TrackerWatch judgedAgain(Soak soak, long heardAtUs) {
    return new Restoration(unit, context)
        .again(soak, terms(soak).with(after), heardAtUs, clock.runningUs());
  }

  private SoakTerms terms(Soak soak) {
    return unit.terms(soak.id()).orElseThrow();
  }
}
