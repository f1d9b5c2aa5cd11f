package soakbench.ingest.identity;

import org.slf4j.LoggerFactory;
import soakbench.host.FaultLog;
import soakbench.lines.LineCounters;
import soakbench.lines.LineReader;
import soakbench.lines.Reading;
import soakbench.lines.Rejection;

/**
 * Admits the readings of one source: those of a confirmed id are announced to the monitoring of
 * heat at once and passed on; the first line of a new id waits for a second one. Not thread-safe.
 */
public final class IdGate implements LineReader.Readings {
  /** Where readings are passed on to. */
  public interface Next {
    Rejection take(Reading reading, long readUs);
  }

  private static final FaultLog FAULTS =
      new FaultLog(LoggerFactory.getLogger(IdGate.class), "taking a line");
  private static final Rejection FAULT =
      new Rejection(
          Rejection.Kind.FAULT, "a fault of this program kept it from being taken; see its log");

  private final SampleStamper stamper;
  private final Next next;
  private final LineCounters counters;
  private long readUs = Reading.NO_TIME;

  public IdGate(SampleStamper stamper, Next next, LineCounters counters) {
    this.stamper = stamper;
    this.next = next;
    this.counters = counters;
  }

  /** Says when the bytes were read whose readings come next. */
  public void readAt(long timeUs) {
    readUs = timeUs;
  }

  /** A fault of this program costs the line, not those after it. */
  @Override
  public Rejection take(Reading reading) {
    try {
      return enter(reading);
    } catch (RuntimeException e) {
      FAULTS.add(e);
      return FAULT;
    }
  }

  /** On a live input it is known when the line was measured: just now. */
  @Override
  public Rejection takeUntimed(Rejection rejection) {
    if (readUs == Reading.NO_TIME) {
      return rejection;
    }
    Rejection why = take(rejection.untimed());
    if (why == null) {
      counters.unbelievedTime();
    }
    return why;
  }

  private Rejection enter(Reading reading) {
    SampleStamper.Entry entry = stamper.enter(reading, readUs);
    if (entry.refusal() != null || entry.isNew()) {
      return entry.refusal();
    }
    if (entry.first() != null) {
      TimedReading first = entry.first().line();
      Rejection why = goOn(first.reading(), first.readUs());
      if (why != null) {
        counters.withdraw(why);
      }
    }
    return goOn(reading, readUs);
  }

  private Rejection goOn(Reading reading, long atUs) {
    stamper.announce(reading, atUs);
    return next.take(reading, atUs);
  }
}
