package soakbench.api.samples;

import java.time.Duration;
import java.util.function.BiFunction;
import java.util.function.LongSupplier;
import soakbench.api.access.OtherRacks;
import soakbench.api.http.Times;
import soakbench.lines.Reading;
import soakbench.live.EventClock;
import soakbench.live.SampleSink;
import soakbench.live.arrival.Arrival;
import soakbench.live.arrival.ArrivalListener;
import soakbench.model.Spans;

/**
 * What all uploads use.
 *
 * @param scheduler where samples go
 * @param arrivals receives each line of a tracker before anything is stored
 * @param otherRacks says for which trackers others write
 * @param quota bounds the new trackers
 * @param boots times of senders without a clock
 * @param clock the live clock
 * @param dateMs the computer's date, ms since 1970: it steps where it is set, as the senders'
 *     clocks do
 * @param ahead how far a line's time may lie ahead of that
 * @param dropped why a tracker's sample of a time, microseconds since 1970, is taken no more; null
 *     where it is
 */
public record UploadContext(
    UploadScheduler scheduler,
    ArrivalListener arrivals,
    OtherRacks otherRacks,
    NewTrackerQuota quota,
    BootClocks boots,
    EventClock clock,
    LongSupplier dateMs,
    Duration ahead,
    BiFunction<String, Long, String> dropped) {

  /** The same for lines that were sent before: they are not live. */
  UploadContext unheard() {
    return new UploadContext(
        scheduler, ArrivalListener.NOBODY, otherRacks, quota, boots, clock, dateMs, ahead, dropped);
  }

  /**
   * The same for recordings that somebody brings in: nothing of them is of now.
   *
   * @param sink where their samples go
   */
  public UploadContext recorded(SampleSink sink) {
    return new UploadContext(
        scheduler.into(sink),
        arrival -> arrivals.heard(arrival.recorded()),
        otherRacks,
        quota,
        boots,
        clock,
        dateMs,
        ahead,
        dropped);
  }

  /** Why a line's time can't be right; null where it can. */
  String ahead(long timeUs) {
    long dateUs = dateMs.getAsLong() * 1000;
    long byUs = timeUs - dateUs;
    if (byUs <= ahead.toNanos() / 1000) {
      return null;
    }
    return "The time %s is %s ahead of this service's clock, %s; up to %d s are taken. Set the"
            .formatted(
                Times.text(timeUs),
                Spans.inTwoUnits(byUs / 1_000_000),
                Times.text(dateUs),
                ahead.toSeconds())
        + " sender's clock, or leave time out and send boot and t_ms.";
  }

  /**
   * Announces a line as it arrives, whether it can be stored or not.
   *
   * @param stampUs its time, microseconds since 1970
   */
  void hears(Reading reading, long stampUs) {
    arrivals.heard(Arrival.of(reading.id(), reading, stampUs, Arrival.Input.POSTED));
  }

  /**
   * The same of one without a usable time of its own; its time of arrival in a recording is used.
   */
  void hearsWithoutTime(Reading reading) {
    hears(reading, reading.arrivalUs());
  }
}
