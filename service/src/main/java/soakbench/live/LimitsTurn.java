package soakbench.live;

import java.util.List;
import java.util.Map;
import soakbench.model.Limits;
import soakbench.model.LimitsChange;
import soakbench.model.Soak;
import soakbench.model.SoakTerms;

/** Turns from limits to others, within one unit of work. */
final class LimitsTurn {
  private final SoakStore.Unit unit;
  private final long nowUs;

  LimitsTurn(SoakStore.Unit unit, long nowUs) {
    this.unit = unit;
    this.nowUs = nowUs;
  }

  /** The soaks under way that are judged by other limits. */
  List<Soak> judgedByOthers(Limits limits) {
    return unit.lastSoaks().stream()
        .filter(soak -> soak.open() && !terms(soak).limits().equals(limits))
        .toList();
  }

  /** Writes the limits that hold from now on, where they are new; returns since when they hold. */
  long write(Limits before, Limits after) {
    if (!after.equals(before)) {
      unit.addLimits(new LimitsChange(nowUs, LimitsChange.Origin.HTTP, after));
    }
    return unit.newestLimits().orElseThrow().sinceUs();
  }

  /** Judges these soaks again; their trackers' watches are replaced. */
  void judgeAgain(
      List<Soak> soaks, Limits by, Map<String, TrackerWatch> watches, TermsBook inForce) {
    for (Soak soak : soaks) {
      long heardAtUs = watches.get(soak.tracker()).heardAtUs();
      Restoration restoration = new Restoration(unit, inForce);
      watches.put(soak.tracker(), restoration.again(soak, terms(soak).with(by), heardAtUs, nowUs));
    }
  }

  private SoakTerms terms(Soak soak) {
    return unit.terms(soak.id()).orElseThrow();
  }
}
