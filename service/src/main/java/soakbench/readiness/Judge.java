package soakbench.readiness;

import java.io.Serializable;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
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
import soakbench.readiness.estimator.Answer;
import soakbench.thermal.WarmUpCurve;

/**
 * Judges one soak second by second. Everything follows from the bins given so far, so the same bins
 * give the same verdicts live, replayed and after a restart. Not thread-safe.
 */
public final class Judge implements Serializable {
  private static final double WILD_C = 5;
  private static final int UNWRAPPED_EVERY_S = 30;

  /** Sooner after the beginning or a disturbance there may be no time yet, s. */
  private static final double LEAST_FOLLOWED_S = 180;

  private final String tracker;
  private final String soak;
  private final Limits limits;
  private final TauPrior prior;
  private final CoolingSource coolings;
  private final Observer observer;
  private final Conditions conditions;
  private final StateMachine machine;
  private final Advice advice;
  private Bin before;
  private State state;
  private long sinceUs;
  private State interrupted;
  private Long interruptedUs;

  /** What the newest verdict is worked out of; not kept with the rest. */
  private transient Evidence evidence;

  private Readiness newest;
  private Unwrapped unwrapped;
  private RuntimeException fault;
  private long unwrappedSlot = Long.MIN_VALUE;

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
    this.observer = new Observer(terms);
    this.conditions = new Conditions(limits);
    this.machine = new StateMachine(limits, conditions);
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
    take(bin, next);
    return newest();
  }

  /**
   * The same where nobody asks for the verdict of each second: its words and figures are worked out
   * when {@link #newest} asks for them.
   */
  public void take(Bin bin, Bin next) {
    if (fault == null) {
      try {
        judge(bin, next);
        return;
      } catch (RuntimeException mistake) {
        // Our own mistake must neither leave a stale "ready" standing nor stop the other trackers.
        fault = mistake;
      }
    }
    failed(bin);
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

  private void judge(Bin bin, Bin next) {
    observer.accept(bin, wild(bin, next));
    before = bin;
    evidence = observer.evidence(bin.second());
    updateUnwrapped(evidence);
    enter(machine.next(evidence), bin.endUs());
    newest = null;
  }

  private void failed(Bin bin) {
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
  }

  /**
   * The verdict when nothing has been heard since the last bin for as long as the limits allow, or
   * for much longer than it usually is.
   */
  public Readiness silence() {
    Readiness r = newest();
    long fromUs = silentFromUs();
    machine.silent();
    enter(State.SILENT, fromUs);
    newest =
        new Readiness(
            tracker,
            soak,
            standing(
                conditions.unheard(r.conditions(), observer.silentAfterS()),
                advice.of(State.SILENT, null, List.of())),
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
    return observer.lastUs() + Math.round(observer.silentAfterS() * 1e6);
  }

  /** The verdict at the end of the newest bin; null before the first. */
  public Readiness newest() {
    if (newest == null && before != null) {
      try {
        newest = readiness(evidence, before.endUs());
      } catch (RuntimeException mistake) {
        fault = mistake;
        failed(before);
      }
    }
    return newest;
  }

  /** The state at the end of the newest bin, or since silence began; null before the first. */
  public State state() {
    return state;
  }

  /** Since when it is in that state, microseconds since 1970. */
  public long sinceUs() {
    return sinceUs;
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
    List<Condition> list = conditions.list(e);
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
    String hindrance = hindrance(e);
    if (hindrance != null) {
      return ReadyTime.unknown(hindrance);
    }
    Answer.Expected expected = e.expected();
    if (expected == null) {
      return ReadyTime.unknown(whyNoTime(e));
    }
    // Of one that left ready it is the time of before, until the next ten seconds are in.
    return expected.fromS() + expected.latestS() < e.tS()
        ? ReadyTime.unknown("not known yet, because it was ready a moment ago")
        : new ReadyTime(readyAt(expected), null);
  }

  private ReadyAt readyAt(Answer.Expected expected) {
    double from = observer.startSecond() + expected.fromS();
    return new ReadyAt(
        Math.round(1e6 * (from + expected.expectedS())),
        Math.round(1e6 * (from + expected.earliestS())),
        Math.round(1e6 * (from + expected.latestS())),
        prior != null);
  }

  /** It changes slowly. */
  private void updateUnwrapped(Evidence e) {
    long slot = (long) (e.tS() / UNWRAPPED_EVERY_S);
    if (slot != unwrappedSlot) {
      unwrapped = observer.unwrapping().answer(tracker, e, coolings);
      unwrappedSlot = slot;
    }
  }

  /** What keeps it from being ready whatever heat and drift do; null where nothing does. */
  private static String hindrance(Evidence e) {
    if (e.hotReason() != null) {
      return "not known: it is too hot";
    }
    if (!e.temperature().known()) {
      return "not known yet, because " + e.temperature().rateReason();
    }
    if (!e.lines().showMotion()) {
      return "not known, because motion can't be seen in its lines";
    }
    return e.bias().shiftReason() == null ? null : "not known: " + e.bias().shiftReason();
  }

  private String whyNoTime(Evidence e) {
    if (state == State.STALLED) {
      return "as it lies it will not reach the band";
    }
    return e.temperature().followedS() < LEAST_FOLLOWED_S
        ? "not known yet, because it needs some minutes at rest"
        : "not known, because it may take over two hours";
  }

  private static List<Estimate> shifts(Evidence e) {
    return e.bias().shifts() == null
        ? Collections.nCopies(3, Estimate.unknown(e.bias().shiftReason()))
        : e.bias().shifts().eachDps();
  }
}
