package soakbench.live;

import java.time.Instant;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.model.Bin;
import soakbench.model.Limits;
import soakbench.model.Soak;
import soakbench.model.Soak.End;
import soakbench.model.StateChange;
import soakbench.readiness.Judge;
import soakbench.readiness.Readiness;

/**
 * One soak while it goes on: its judge, which runs one bin behind, and its timeline so far. Not
 * thread-safe.
 */
final class SoakRun {
  private static final DateTimeFormatter STAMP =
      DateTimeFormatter.ofPattern("yyyyMMdd'T'HHmmssSSS'Z'").withZone(ZoneOffset.UTC);

  private static final Logger LOG = LoggerFactory.getLogger(SoakRun.class);

  private final String id;
  private final String tracker;
  private final long startUs;
  private final Judge judge;
  private final long silenceUs;
  private final RatesTold told;
  private Bin pending;
  private Bin last;
  private StateChange newestChange;
  private boolean silent;
  private boolean faultTold;

  SoakRun(String tracker, long startUs, Limits limits, RatesTold told) {
    this.id = id(tracker, startUs);
    this.tracker = tracker;
    this.startUs = startUs;
    this.judge = new Judge(tracker, id, limits);
    this.told = told;
    this.silenceUs = Math.round(limits.heardWithinS() * 1e6);
  }

  static String id(String tracker, long startUs) {
    return tracker + "@" + STAMP.format(Instant.ofEpochMilli(Math.floorDiv(startUs, 1000L)));
  }

  String id() {
    return id;
  }

  long startUs() {
    return startUs;
  }

  Bin last() {
    return last;
  }

  /** Takes a closed bin and judges the one before it. */
  void accept(Bin bin, Derived out) {
    judge.told(told.of(tracker));
    silent = false;
    if (pending != null) {
      boolean next = bin.second() == pending.second() + 1;
      note(judge.accept(pending, next ? bin : null), out);
      pending = null;
    }
    if (last != null && silentBy(bin.firstUs())) {
      note(judge.silence(), out);
    }
    pending = bin;
    last = bin;
  }

  /** Whether a live clock said that nothing more is heard. */
  boolean silent() {
    return silent;
  }

  /** When silence begins if nothing more is heard. */
  long silentFromUs() {
    return last.lastUs() + silenceUs;
  }

  /** Whether it is silent if the next sample has this time. */
  boolean silentBy(long nextUs) {
    return nextUs > silentFromUs();
  }

  /** Nothing was heard for as long as the limits allow. */
  void silence(Derived out) {
    if (silent) {
      return;
    }
    silent = true;
    flush(out);
    note(judge.silence(), out);
  }

  /** Judges the last bin although no other follows. */
  void flush(Derived out) {
    if (pending != null) {
      note(judge.accept(pending, null), out);
      pending = null;
    }
  }

  private void note(Readiness r, Derived out) {
    if (!faultTold && judge.fault().isPresent()) {
      faultTold = true;
      LOG.error(
          "soak {} can't be judged any more by a mistake of the program", id, judge.fault().get());
    }
    if (newestChange == null || newestChange.state() != r.state()) {
      newestChange = new StateChange(r.sinceUs(), r.state(), false);
      out.change(id, newestChange);
    }
  }

  Soak soak(long endUs, long samples, End ended) {
    return new Soak(id, tracker, startUs, endUs, samples, ended);
  }

  Readiness newest() {
    return judge.newest();
  }
}
