package soakbench.bench;

import java.util.ArrayList;
import java.util.List;
import soakbench.cli.commands.Replay;
import soakbench.demo.simulation.Recipe;
import soakbench.demo.simulation.Truth;
import soakbench.demo.unit.Events;
import soakbench.demo.unit.Motion;
import soakbench.demo.unit.Span;
import soakbench.demo.unit.Uncovering;
import soakbench.model.State;
import soakbench.model.StateChange;

/**
 * One simulated tracker's verdicts held against its truth. Seconds are counted from the run's
 * start.
 *
 * @param tracker its id
 * @param scenarios what happened to it
 * @param cycling whether its room's heating cycled
 * @param harmfulEntriesS seconds at which it was declared ready although calibrating would have
 *     done harm
 * @param unforeseeableEntries such entries within {@link #LID_GRACE_S} of a lid, when nobody could
 *     know yet
 * @param delayS seconds of true readiness before the first harmless entry; NaN where there was
 *     nothing to be late for
 * @param could whether it was truly ready for at least ten minutes
 * @param declared whether it was ever declared ready
 * @param changes of state
 * @param hours length of its record
 * @param motions what was seen of its being moved
 * @param forecasts at 25, 50 and 75 % of the way; null where not asked or not answered
 */
public record VerdictScore(
    String tracker,
    List<String> scenarios,
    boolean cycling,
    List<Integer> harmfulEntriesS,
    int unforeseeableEntries,
    double delayS,
    boolean could,
    boolean declared,
    int changes,
    double hours,
    MotionScore motions,
    ForecastScore[] forecasts) {

  static final int LID_GRACE_S = 40;
  static final int[] WAY_PERCENT = {25, 50, 75};
  private static final int SHORTEST_READY_S = 300;
  private static final int TEN_MINUTES_S = 600;
  private static final double SHORTEST_WAY_S = 400;

  /** An expected ready time held against the true one. */
  public record ForecastScore(double errorS, boolean covered) {}

  /** What an hour's verdicts were worth. */
  public static VerdictScore of(
      Truth truth, List<StateChange> timeline, List<Replay.Forecast> forecasts) {
    Recipe recipe = truth.recipe();
    long startUs = recipe.startUs();
    int seconds = (int) recipe.durationS() + 1;
    boolean[] ready = marked(truth.readyS(), seconds);
    boolean[] harmful = marked(truth.harmfulS(), seconds);
    boolean[] declared = declared(timeline, startUs, seconds);
    List<Integer> bad = new ArrayList<>();
    int unforeseeable = 0;
    int firstGood = -1;
    boolean any = false;
    for (int s = 0; s < seconds; s++) {
      boolean entered = declared[s] && (s == 0 || !declared[s - 1]);
      any |= entered;
      if (entered && harmful[s]) {
        boolean fresh = nearLid(recipe.events(), s);
        unforeseeable += fresh ? 1 : 0;
        if (!fresh) {
          bad.add(s);
        }
      } else if (entered && firstGood < 0) {
        firstGood = s;
      }
    }
    int readySeconds = count(ready, seconds);
    int first = truth.readyS().isEmpty() ? -1 : truth.readyS().get(0)[0];
    double delay =
        readySeconds < SHORTEST_READY_S || firstGood < 0
            ? Double.NaN
            : firstGood <= first ? firstGood - first : count(ready, firstGood);
    return new VerdictScore(
        recipe.unit().id(),
        recipe.origin().scenarios(),
        recipe.heating().room().halfC() > 0,
        bad,
        unforeseeable,
        delay,
        readySeconds >= TEN_MINUTES_S,
        any,
        timeline.size(),
        seconds / 3600.0,
        MotionScore.of(recipe, timeline),
        forecastScores(truth, forecasts, startUs));
  }

  private static boolean[] marked(List<int[]> spans, int seconds) {
    boolean[] mask = new boolean[seconds];
    for (int[] span : spans) {
      for (int s = Math.max(0, span[0]); s <= Math.min(seconds - 1, span[1]); s++) {
        mask[s] = true;
      }
    }
    return mask;
  }

  private static boolean[] declared(List<StateChange> timeline, long startUs, int seconds) {
    boolean[] mask = new boolean[seconds];
    for (int i = 0; i < timeline.size(); i++) {
      if (timeline.get(i).state() == State.READY) {
        int from = second(timeline.get(i).timeUs(), startUs);
        int to = i + 1 < timeline.size() ? second(timeline.get(i + 1).timeUs(), startUs) : seconds;
        for (int s = Math.max(0, from); s < Math.min(to, seconds); s++) {
          mask[s] = true;
        }
      }
    }
    return mask;
  }

  private static int second(long timeUs, long startUs) {
    return (int) -Math.floorDiv(startUs - timeUs, 1_000_000L);
  }

  private static boolean nearLid(Events events, int second) {
    for (Uncovering lid : events.uncoverings()) {
      for (double edge : new double[] {lid.fromS(), lid.toS()}) {
        if (second - edge >= 0 && second - edge <= LID_GRACE_S) {
          return true;
        }
      }
    }
    return false;
  }

  private static int count(boolean[] mask, int before) {
    int n = 0;
    for (int s = 0; s < before; s++) {
      n += mask[s] ? 1 : 0;
    }
    return n;
  }

  /** Only where nothing unforeseeable happens between the forecast and ready. */
  private static ForecastScore[] forecastScores(
      Truth truth, List<Replay.Forecast> forecasts, long startUs) {
    ForecastScore[] out = new ForecastScore[WAY_PERCENT.length];
    double first = truth.recipe().stream().firstS();
    if (truth.readyS().isEmpty() || truth.readyS().get(0)[0] - first < SHORTEST_WAY_S) {
      return out;
    }
    double ready = truth.readyS().get(0)[0];
    for (int k = 0; k < out.length; k++) {
      double at = first + WAY_PERCENT[k] / 100.0 * (ready - first);
      if (!disturbed(truth.recipe().events(), at - 60, ready)) {
        out[k] = forecastScore(forecasts, startUs, at, ready);
      }
    }
    return out;
  }

  private static ForecastScore forecastScore(
      List<Replay.Forecast> forecasts, long startUs, double at, double ready) {
    ForecastScore newest = null;
    for (Replay.Forecast f : forecasts) {
      double told = (f.timeUs() - startUs) / 1e6;
      if (told <= at && told > at - 120 && f.readyAt() != null) {
        double expected = (f.readyAt().expectedUs() - startUs) / 1e6;
        double earliest = (f.readyAt().earliestUs() - startUs) / 1e6;
        double latest = (f.readyAt().latestUs() - startUs) / 1e6;
        newest = new ForecastScore(expected - ready, earliest - 1 <= ready && ready <= latest + 1);
      }
    }
    return newest;
  }

  private static boolean disturbed(Events events, double from, double to) {
    for (Motion m : events.motions()) {
      if (m.fromS() <= to && m.toS() >= from) {
        return true;
      }
    }
    for (Uncovering l : events.uncoverings()) {
      if (l.fromS() <= to && l.toS() >= from) {
        return true;
      }
    }
    for (List<Span> spans : List.of(events.powerOffs(), events.gaps())) {
      for (Span s : spans) {
        if (s.fromS() <= to && s.toS() >= from) {
          return true;
        }
      }
    }
    return false;
  }
}
