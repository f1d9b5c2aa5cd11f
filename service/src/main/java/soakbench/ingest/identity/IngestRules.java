package soakbench.ingest.identity;

import java.util.function.LongSupplier;
import java.util.function.Predicate;
import soakbench.ingest.rackfile.StampTolerance;
import soakbench.live.arrival.ArrivalListener;

/**
 * What holds for all lines that one program ingests.
 *
 * @param stamps how far lines' own timestamps are trusted
 * @param correctionUs how much the date was set since the start, microseconds; see {@link
 *     ArrivalClock#correctionUs}
 * @param bounded whether the destination refuses timestamps too far ahead of the date, so that it
 *     is better to step them back
 * @param arrivals receives what arrives
 * @param known ids that need no second line to be confirmed
 */
public record IngestRules(
    StampTolerance stamps,
    LongSupplier correctionUs,
    boolean bounded,
    ArrivalListener arrivals,
    Predicate<String> known) {

  /** For reading on its own: nobody listens, every id is confirmed. */
  static final IngestRules PLAIN =
      new IngestRules(StampTolerance.USUAL, () -> 0, false, ArrivalListener.NOBODY, id -> true);

  /**
   * Whether a slot names this id: reading on its own has no slots, though every id is confirmed
   * there.
   */
  boolean names(String tracker) {
    return this != PLAIN && known.test(tracker);
  }
}
