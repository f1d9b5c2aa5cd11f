package soakbench.readiness;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import org.hipparchus.distribution.continuous.NormalDistribution;
import soakbench.model.Bin;
import soakbench.model.Estimate;
import soakbench.model.Limits;
import soakbench.model.SoakTerms;
import soakbench.model.State;
import soakbench.model.TauPrior;
import soakbench.model.Tracker.Rates;
import soakbench.readiness.Readiness.Figures;
import soakbench.readiness.Readiness.ReadyTime;
import soakbench.readiness.Readiness.Standing;
import soakbench.thermal.WarmUpCurve;

/**
 * Judges one soak second by second. Everything follows from the bins given so far, so the same bins
 * give the same verdicts live, replayed and after a restart. Not thread-safe.
 */
public final class Judge {
  private static final double WILD_C = 5;
  private static final int FORECAST_EVERY_S = 30;

  private final String tracker;
  private final String soak;
  private final Limits limits;
  private final TauPrior prior;
  private final CoolingSource coolings;
  private final double quantile;
  private final Observer observer;
  private final Conditions conditions;
  private final StateMachine machine;
  private final ReadyForecast forecast;
  private final Advice advice;
  private Bin before;
  private State state;
  private long sinceUs;
  private State interrupted;
  private Long interruptedUs;
  private Readiness newest;
  private ReadyForecast.Ahead ahead;
  private long aheadFromUs;
  private Unwrapped unwrapped;
  private RuntimeException fault;
  private long forecastSlot = Long.MIN_VALUE;

  /** A judge of one soak, by its own terms, that knows no other soaks' coolings. */
  public Judge(String tracker, String soak, SoakTerms terms) {
    this(tracker, soak, terms, CoolingSource.NONE);
  }

  /**
   * A judge of one soak, by its own terms.
   *
   * @param coolings asked for the time unwrapped alone
   */
  public Judge(String tracker, String soak, SoakTerms terms, CoolingSource coolings) {
    this.tracker = tracker;
    this.soak = soak;
    this.limits = terms.limits();
    this.prior = terms.tauPrior();
    this.coolings = coolings;
    this.quantile = new NormalDistribution().inverseCumulativeProbability(1 - limits.alpha());
    this.observer = new Observer(terms);
    this.conditions = new Conditions(limits);
    this.machine = new StateMachine(limits, conditions);
    this.forecast = new ReadyForecast(limits);
    this.advice = new Advice(limits);
  }

  /**
   * Judges the next bin.
   *
   * @param bin later than all before
   * @param next the bin of the second after it, or null where there is none; tells a wild
   *     temperature from a real one
   * @return the verdict at the end of the bin
   */
  public Readiness accept(Bin bin, Bin next) {
    if (fault == null) {
      try {
        return judged(bin, next);
      } catch (RuntimeException mistake) {
        // Our own mistake must neither leave a stale "ready" standing nor stop the other trackers.
        fault = mistake;
      }
    }
    return failed(bin);
  }

  /** What is declared of the tracker's rates, from the next bin on. */
  public void declared(Rates rates) {
    observer.declared(rates);
  }

  /**
   * The program's own mistake that keeps this soak from being judged; empty while there is none.
   */
  public Optional<RuntimeException> fault() {
    return Optional.ofNullable(fault);
  }

  private Readiness judged(Bin bin, Bin next) {
    observer.accept(bin, wild(bin, next));
    before = bin;
    Evidence e = observer.evidence(bin.second());
    enter(machine.next(e), bin.endUs());
    newest = readiness(e, bin.endUs());
    return newest;
  }

  private Readiness failed(Bin bin) {
    enter(State.UNDECIDED, bin.endUs());
    String why = "a mistake of the program keeps this soak from being judged";
    String advice = "can't say: " + why + "; see the log, and end the soak to begin another";
    double celsius = bin.temperatureC().mean();
    Figures figures =
        new Figures(
            bin.endUs(),
            Double.isNaN(celsius) ? null : celsius,
            null,
            null,
            Collections.nCopies(3, Estimate.unknown(why)));
    newest =
        new Readiness(
            tracker,
            soak,
            new Standing(state, sinceUs, null, null, List.of(), advice),
            figures,
            ReadyTime.unknown("not known: " + why),
            Unwrapped.unknown("not known: " + why),
            null);
    return newest;
  }

  /** The verdict when nothing has been heard since the last bin for as long as the limits allow. */
  public Readiness silence() {
    long fromUs = silentFromUs();
    machine.silent();
    enter(State.SILENT, fromUs);
    Readiness r = newest;
    newest =
        new Readiness(
            tracker,
            soak,
            standing(conditions.unheard(r.conditions()), advice.of(State.SILENT, null, List.of())),
            r.figures().asOf(fromUs),
            ReadyTime.unknown("nothing is heard"),
            r.unwrapped(),
            r.heat());
    return newest;
  }

  private Standing standing(List<Condition> list, String line) {
    return new Standing(state, sinceUs, interrupted, interruptedUs, list, line);
  }

  /** When silence begins if nothing more is heard, microseconds since 1970. */
  public long silentFromUs() {
    return observer.lastUs() + Math.round(limits.heardWithinS() * 1e6);
  }

  public Readiness newest() {
    return newest;
  }

  /** The warm-up curve of all that was judged; for a soak that gets no second more. */
  public WarmUpCurve warmUp() {
    if (fault == null) {
      try {
        return observer.warmUp();
      } catch (RuntimeException mistake) {
        fault = mistake;
      }
    }
    return WarmUpCurve.unknown("no curve: a mistake of the program, see the log", List.of());
  }

  /** Coolings recorded in this soak, by time. */
  public List<RecordedCooling> coolings() {
    return observer.unwrapping().recorded();
  }

  private boolean wild(Bin bin, Bin next) {
    if (bin.temperatureC().count() == 0) {
      return false;
    }
    Boolean offBefore = off(bin, before);
    Boolean offNext = off(bin, next);
    if (offBefore == null && offNext == null) {
      return false;
    }
    return !Boolean.FALSE.equals(offBefore) && !Boolean.FALSE.equals(offNext);
  }

  private static Boolean off(Bin bin, Bin other) {
    if (other == null
        || other.temperatureC().count() == 0
        || Math.abs(other.second() - bin.second()) > 10) {
      return null;
    }
    return Math.abs(bin.temperatureC().mean() - other.temperatureC().mean()) > WILD_C;
  }

  private void enter(State next, long atUs) {
    if (next == state) {
      return;
    }
    boolean interrupts = next == State.DISTURBED || next == State.SILENT;
    boolean was = state == State.DISTURBED || state == State.SILENT;
    if (!interrupts) {
      interrupted = null;
      interruptedUs = null;
    } else if (!was && state != null) {
      interrupted = state;
      interruptedUs = atUs;
    }
    state = next;
    sinceUs = atUs;
  }

  private Readiness readiness(Evidence e, long asOfUs) {
    double dwell = machine.dwellS(e);
    List<Condition> list = conditions.list(e, dwell);
    updateForecast(e, dwell, asOfUs);
    return new Readiness(
        tracker,
        soak,
        standing(list, advice.of(state, e, list)),
        figures(e, asOfUs),
        readyTime(e),
        unwrapped,
        e.heat());
  }

  private Figures figures(Evidence e, long asOfUs) {
    Evidence.Temperature t = e.temperature();
    return new Figures(
        asOfUs,
        t.known() ? t.nowC() : null,
        t.rate() == null ? null : t.rate().value(),
        e.bias().dps(),
        shifts(e));
  }

  private ReadyTime readyTime(Evidence e) {
    if (state == State.READY) {
      return ReadyTime.unknown("it is ready");
    }
    boolean known = ahead != null && !Double.isNaN(ahead.expected());
    return known ? new ReadyTime(readyAt(), null) : ReadyTime.unknown(whyNoTime(e));
  }

  private ReadyAt readyAt() {
    return new ReadyAt(
        aheadFromUs + Math.round(1e6 * ahead.expected()),
        aheadFromUs + Math.round(1e6 * ahead.earliest()),
        aheadFromUs + Math.round(1e6 * ahead.latest()),
        prior != null);
  }

  /** Twice a minute is enough for a time that is told to the minute. */
  private void updateForecast(Evidence e, double dwell, long asOfUs) {
    long slot = (long) (e.tS() / FORECAST_EVERY_S);
    boolean due = slot != forecastSlot;
    boolean possible =
        e.temperature().window().outlook() != null
            && e.bias().models() != null
            && e.hotReason() == null;
    boolean wanted = possible && state != State.READY;
    if (due) {
      unwrapped = observer.unwrapping().answer(tracker, e, coolings);
      forecastSlot = slot;
    }
    if (due || wanted && ahead == null) {
      ahead = wanted ? forecast.ahead(e, dwell) : null;
      aheadFromUs = asOfUs;
    }
  }

  private String whyNoTime(Evidence e) {
    if (e.hotReason() != null) {
      return "not known: it is too hot";
    }
    if (!e.temperature().known()) {
      return "not known yet, because its lines carry no temperature";
    }
    if (!e.lines().showMotion()) {
      return "not known, because motion can't be seen in its lines";
    }
    if (e.lines().correctedInside() != null) {
      return "not known: " + e.lines().correctedInside();
    }
    if (e.temperature().window().fit().isEmpty()) {
      return "not known yet, because the warm-up curve needs some minutes without a disturbance";
    }
    if (e.bias().models() == null) {
      return "not known yet, because two minutes of lying still are needed";
    }
    return state == State.STALLED
        ? "as it lies it will not reach the band"
        : "not known, because it may level off outside the band";
  }

  private List<Estimate> shifts(Evidence e) {
    List<Estimate> out = new ArrayList<>();
    for (int i = 0; i < 3; i++) {
      if (e.bias().shift() == null) {
        out.add(Estimate.unknown(e.bias().shiftReason()));
      } else {
        TostInterval s = e.bias().shift()[i];
        // The tests look at the (1 - 2 alpha) interval; what is shown has 95 % limits like every
        // estimate.
        double se = s.half() / quantile;
        out.add(Estimate.of(s.value(), se, 1.96));
      }
    }
    return out;
  }
}
