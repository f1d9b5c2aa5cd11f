package soakbench.live;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.EnumMap;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import soakbench.live.SoakStore.Unit;
import soakbench.model.LimitKey;
import soakbench.model.Limits;
import soakbench.model.LimitsChange;
import soakbench.model.LimitsChange.Origin;

/** What every store must do with the history of limits. */
interface LimitsContract extends StoreInTest {
  @Test
  default void theNewestLimitsAreTheLastAdded() {
    LimitsChange first = new LimitsChange(START_US + 7, Origin.DEFAULTS, odd(1));
    // A clock may go back: what counts is the order of writing.
    LimitsChange second = new LimitsChange(START_US + 3, Origin.HTTP, odd(2));
    run(u -> u.addLimits(first));
    assertThat(newestLimits()).contains(first);
    run(u -> u.addLimits(second));
    assertThat(newestLimits()).contains(second);
    try (Unit unit = store().begin()) {
      unit.addLimits(new LimitsChange(START_US + 9, Origin.FILE, odd(3)));
      assertThat(unit.newestLimits().orElseThrow().origin()).isEqualTo(Origin.FILE);
    }
    assertThat(newestLimits()).contains(second);
  }

  private Optional<LimitsChange> newestLimits() {
    return read(Unit::newestLimits);
  }

  /** Limits of which no two are the same, none of them a default. */
  static Limits odd(double factor) {
    Map<LimitKey, Double> all = new EnumMap<>(LimitKey.class);
    for (LimitKey key : LimitKey.values()) {
      all.put(key, factor * (key.ordinal() + 1) / 3);
    }
    return LimitKey.limits(all);
  }
}
