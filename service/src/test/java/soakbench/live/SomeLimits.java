package soakbench.live;

import java.util.EnumMap;
import java.util.Map;
import soakbench.model.LimitKey;
import soakbench.model.Limits;

/** The defaults with some limits changed. */
public final class SomeLimits {
  private final Map<LimitKey, Double> all = new EnumMap<>(LimitKey.values(Limits.DEFAULT));

  public static Limits with(LimitKey key, double value) {
    return new SomeLimits().and(key, value).limits();
  }

  public SomeLimits and(LimitKey key, double value) {
    all.put(key, value);
    return this;
  }

  public Limits limits() {
    return LimitKey.limits(all);
  }
}
