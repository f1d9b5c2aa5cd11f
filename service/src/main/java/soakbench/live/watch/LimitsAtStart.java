package soakbench.live.watch;

import java.util.Locale;
import java.util.Optional;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.live.SoakStore;
import soakbench.model.LimitDifference;
import soakbench.model.Limits;
import soakbench.model.LimitsChange;
import soakbench.model.LimitsChange.Origin;

/**
 * Which limits hold when a program starts: those given to it, else the newest of the history, else
 * the defaults. What is not the newest of the history is added to it.
 */
final class LimitsAtStart {
  private static final Logger LOG = LoggerFactory.getLogger(LimitsAtStart.class);

  private LimitsAtStart() {}

  /**
   * The limits in force from now on.
   *
   * @param given limits given at the start; null where none were
   */
  static LimitsChange in(SoakStore.Unit unit, Limits given, long nowUs) {
    Optional<LimitsChange> newest = unit.newestLimits();
    Optional<LimitsChange> next = next(newest, given, nowUs);
    next.ifPresent(unit::addLimits);
    next.ifPresent(n -> newest.ifPresent(before -> log(before, n)));
    return next.or(() -> newest).orElseThrow();
  }

  /** Whoever set limits over HTTP should find out where they went. */
  private static void log(LimitsChange before, LimitsChange now) {
    LOG.info(
        "limits: {}, from now on by {}, were by {}",
        LimitDifference.between(before.limits(), now.limits()),
        now.origin().name().toLowerCase(Locale.ROOT),
        before.origin().name().toLowerCase(Locale.ROOT));
  }

  private static Optional<LimitsChange> next(
      Optional<LimitsChange> newest, Limits given, long nowUs) {
    // Nobody chose the defaults: those of a newer program replace the older ones.
    boolean chosen = newest.isPresent() && newest.get().origin() != Origin.DEFAULTS;
    Limits wanted = given == null && !chosen ? Limits.DEFAULT : given;
    if (wanted == null || newest.filter(n -> n.limits().equals(wanted)).isPresent()) {
      return Optional.empty();
    }
    return Optional.of(
        new LimitsChange(nowUs, given == null ? Origin.DEFAULTS : Origin.FILE, wanted));
  }
}
