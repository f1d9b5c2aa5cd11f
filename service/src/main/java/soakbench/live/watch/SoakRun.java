package soakbench.live.watch;

import java.io.Serializable;
import java.time.Instant;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.time.format.DateTimeParseException;
import java.util.List;
import java.util.OptionalLong;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.live.RatesHistory;
import soakbench.live.SoakSummary;
import soakbench.model.Bin;
import soakbench.model.Soak;
import soakbench.model.Soak.End;
import soakbench.model.SoakTerms;
import soakbench.model.StateChange;
import soakbench.readiness.CoolingSource;
import soakbench.readiness.Judge;
import soakbench.readiness.LineSpacing;
import soakbench.readiness.Readiness;
import soakbench.thermal.WarmUpCurve;

/**
 * One soak while it goes on: its judge, which runs one bin behind, and its timeline so far. Not
 * thread-safe.
 */
public final class SoakRun implements Serializable {
  private static final DateTimeFormatter STAMP =
      DateTimeFormatter.ofPattern("yyyyMMdd'T'HHmmssSSS'Z'").withZone(ZoneOffset.UTC);

  private static final Logger LOG = LoggerFactory.getLogger(SoakRun.class);

  private final String id;
  private final String tracker;
  private final long startUs;
  private final Judge judge;
  private final double heardWithinS;
  private final LineSpacing spacing = new LineSpacing();
  private final RatesHistory rates;
  private SoakTerms terms;
  private Bin pending;
  private Bin last;
  private StateChange newestChange;
  private boolean silent;
  private boolean faultLogged;
  private int coolingsReported;
  private long bins;
  private long readings;
  private int changes;

  /**
   * @param terms what is declared of its rates is taken from {@code rates}, second by second
   */
  public SoakRun(
      String tracker, long startUs, SoakTerms terms, CoolingSource coolings, RatesHistory rates) {
    this.id = id(tracker, startUs);
    this.tracker = tracker;
    this.startUs = startUs;
    this.terms = terms.withoutDeclared();
    this.judge = new Judge(tracker, id, terms, coolings);
    this.rates = rates;
    this.heardWithinS = terms.limits().heardWithinS();
  }

  public static String id(String tracker, long startUs) {
    return tracker + "@" + STAMP.format(Instant.ofEpochMilli(Math.floorDiv(startUs, 1000L)));
  }

  /** The start that an id tells, as the id has it: in whole milliseconds; empty for no such id. */
  public static OptionalLong startMs(String id) {
    try {
      String stamp = id.substring(id.indexOf('@') + 1);
      return OptionalLong.of(STAMP.parse(stamp, Instant::from).toEpochMilli());
    } catch (DateTimeParseException e) {
      return OptionalLong.empty();
    }
  }

  public String id() {
    return id;
  }

  long startUs() {
    return startUs;
  }

  /** What it is judged by, with what was declared so far. */
  SoakTerms terms() {
    return terms;
  }

  /** For how long nothing must be heard to call it silent, microseconds. */
  long silenceUs() {
    return Math.round(spacing.silentAfterS(heardWithinS) * 1e6);
  }

  Bin last() {
    return last;
  }

  /** How many bins it was given. */
  long bins() {
    return bins;
  }

  /** How many readings these held. */
  long readings() {
    return readings;
  }

  /** How often its state has changed so far. */
  int changes() {
    return changes;
  }

  /** Whether it is worth keeping: it is being judged. Its newest verdict is worked out for that. */
  boolean keepable() {
    return newestChange != null && judge.newest() != null && judge.fault().isEmpty();
  }

  /**
   * Whether it is this soak, judged by these terms so far.
   *
   * @param its those of the soak by now
   */
  boolean fits(Soak soak, SoakTerms its) {
    return id.equals(soak.id())
        && tracker.equals(soak.tracker())
        && startUs == soak.startUs()
        && terms.equals(its.until(last.second()));
  }

  /** Takes a closed bin and judges the one before it. */
  public void accept(Bin bin, PendingWrites out) {
    hear(bin.second(), out);
    silent = false;
    if (pending != null) {
      boolean next = bin.second() == pending.second() + 1;
      judge(next ? bin : null, out);
    }
    if (last != null && silentBy(bin.firstUs())) {
      silenced(out);
    }
    if (last != null) {
      spacing.heard((bin.firstUs() - last.firstUs()) / 1e6, (bin.firstUs() - last.lastUs()) / 1e6);
    }
    pending = bin;
    last = bin;
    bins++;
    readings += bin.readings();
  }

  /** Whether a live clock has detected silence. */
  boolean silent() {
    return silent;
  }

  /** When silence begins if nothing more is heard. */
  long silentFromUs() {
    return last.lastUs() + silenceUs();
  }

  /** Whether it is silent if the next sample has this time. */
  boolean silentBy(long nextUs) {
    return nextUs > silentFromUs();
  }

  /** Nothing was heard for as long as the limits allow. */
  void silence(PendingWrites out) {
    if (silent) {
      return;
    }
    silent = true;
    flush(out);
    silenced(out);
  }

  /** Judges the last bin although no other follows. */
  public void flush(PendingWrites out) {
    if (pending != null) {
      judge(null, out);
    }
  }

  /** What is declared now holds from the second after the newest closed one on. */
  private void hear(long second, PendingWrites out) {
    long fromSecond = last == null ? second : last.second() + 1;
    SoakTerms heard = terms.declared(fromSecond, rates.of(tracker, second));
    if (heard != terms) {
      terms = heard;
      out.terms(id, heard);
    }
  }

  private void judge(Bin next, PendingWrites out) {
    judge.declared(terms.ratesAt(pending.second()).orElseThrow());
    judge.take(pending, next);
    note(pending.endUs(), out);
    pending = null;
  }

  private void silenced(PendingWrites out) {
    note(judge.silence().asOfUs(), out);
  }

  private void note(long asOfUs, PendingWrites out) {
    if (judge.coolings().size() > coolingsReported) {
      coolingsReported = judge.coolings().size();
      out.summary(summary(asOfUs, false, WarmUpCurve.unknown("it goes on", List.of())));
    }
    logFault();
    if (newestChange == null || newestChange.state() != judge.state()) {
      newestChange = new StateChange(judge.sinceUs(), judge.state(), false);
      changes++;
      out.change(id, newestChange);
    }
  }

  private void logFault() {
    if (!faultLogged && judge.fault().isPresent()) {
      faultLogged = true;
      LOG.error(
          "soak {} can't be judged any more by a mistake of the program", id, judge.fault().get());
    }
  }

  /** Its summary for the soaks after it; no second may come after. */
  public SoakSummary summary(long endUs, boolean ended) {
    WarmUpCurve curve = judge.warmUp();
    logFault();
    return summary(endUs, ended, curve);
  }

  private SoakSummary summary(long endUs, boolean ended, WarmUpCurve warmUp) {
    SoakSummary.Thermal shown =
        new SoakSummary.Thermal(warmUp.plateauC(), warmUp.timeConstantsS(), judge.coolings());
    return new SoakSummary(id, tracker, endUs, ended, shown);
  }

  Soak soak(long endUs, long samples, End ended) {
    return new Soak(id, tracker, startUs, endUs, samples, ended);
  }

  Readiness newest() {
    return judge.newest();
  }
}
