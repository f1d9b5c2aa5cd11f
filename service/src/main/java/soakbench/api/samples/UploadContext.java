package soakbench.api.samples;

import java.time.Duration;
import java.util.function.LongSupplier;
import soakbench.lines.Reading;
import soakbench.live.EventClock;
import soakbench.live.arrival.Arrival;
import soakbench.live.arrival.ArrivalListener;

/**
 * What all uploads share.
 *
 * @param turns where samples go
 * @param arrivals hears each line of a tracker before anything is stored
 * @param news bounds what they may make
 * @param boots times of senders without a clock
 * @param clock what time it is in samples
 * @param dateMs the computer's date, ms since 1970: it follows whoever sets it, as the senders'
 *     clocks do
 * @param ahead how far a line's time may lie ahead of that
 */
public record UploadContext(
    UploadTurns turns,
    ArrivalListener arrivals,
    NewTrackers news,
    BootClocks boots,
    EventClock clock,
    LongSupplier dateMs,
    Duration ahead) {

  /** The same for lines that were sent before: they say nothing of now. */
  UploadContext unheard() {
    return new UploadContext(turns, ArrivalListener.NOBODY, news, boots, clock, dateMs, ahead);
  }

  /**
   * Tells of a line as it arrives, whether it can be stored or not.
   *
   * @param stampUs its time, microseconds since 1970
   */
  void hears(Reading reading, long stampUs) {
    arrivals.heard(Arrival.of(reading.id(), reading, stampUs, Arrival.Input.POSTED));
  }

  /**
   * The same of one that says no time that can be used; what a recording noted beside it will do.
   */
  void hearsWithoutTime(Reading reading) {
    hears(reading, reading.arrivalUs());
  }
}
