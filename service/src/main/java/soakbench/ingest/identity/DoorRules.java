package soakbench.ingest.identity;

import java.util.function.LongSupplier;
import java.util.function.Predicate;
import soakbench.ingest.rackfile.StampRule;
import soakbench.live.arrival.Arrivals;

/**
 * What holds at the doors of one program.
 *
 * @param stamps how far lines' own times are believed
 * @param correctionUs how much the date was set since the start, microseconds; see {@link
 *     ArrivalClock#correctionUs}
 * @param bounded whether times that lie too far ahead of the date are refused where they go, so
 *     that they had better step back
 * @param arrivals hears what arrives
 * @param known ids that count from their first line on
 */
public record DoorRules(
    StampRule stamps,
    LongSupplier correctionUs,
    boolean bounded,
    Arrivals arrivals,
    Predicate<String> known) {

  /** For who reads by itself: nobody listens, every id counts. */
  static final DoorRules PLAIN =
      new DoorRules(StampRule.USUAL, () -> 0, false, Arrivals.NOBODY, id -> true);

  /** Whether a slot names this id: who reads by itself has none, though every id counts there. */
  boolean names(String tracker) {
    return this != PLAIN && known.test(tracker);
  }
}
