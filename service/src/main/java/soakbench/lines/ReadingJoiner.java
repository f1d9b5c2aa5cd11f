package soakbench.lines;

import java.util.function.Consumer;
import soakbench.model.Sample;

/**
 * Joins the readings of one tracker whose lines carry temperature and rates apart. The last
 * temperature is held for a while and joined to the rates that follow: to the first as measured, to
 * later ones as held. A temperature that no rates followed becomes a sample of its own when the
 * next one comes. Not thread-safe.
 */
public final class ReadingJoiner {
  /** How long a temperature is held unless set otherwise, s. */
  public static final int TEMPERATURE_HOLD_S = 30;

  private final String tracker;
  private final long holdUs;
  private float temperatureC = Float.NaN;
  private long temperatureTimeUs;
  private long emittedUs = Long.MIN_VALUE;

  /** A temperature-only reading that nothing was joined to yet, or null. */
  private Reading waiting;

  /**
   * @param temperatureHoldS how long a temperature is joined to later rates, s
   */
  public ReadingJoiner(String tracker, double temperatureHoldS) {
    this.tracker = tracker;
    this.holdUs = Math.round(temperatureHoldS * 1e6);
  }

  /**
   * Takes one reading.
   *
   * @param timeUs when it was taken, not before the reading taken last
   * @param samples gets none, one or two samples, their times strictly rising from call to call
   */
  public void take(Reading reading, long timeUs, Consumer<Sample> samples) {
    if (reading.isWhole()) {
      release(samples);
      emit(reading, timeUs, reading.temperatureC(), reading.temperatureHeld(), samples);
    } else if (!reading.hasRates()) {
      release(samples);
      waiting = reading;
      hold(reading, timeUs);
    } else if (reading.hasTemperature()) {
      release(samples);
      hold(reading, timeUs);
      emit(reading, timeUs, temperatureC, false, samples);
    } else {
      takeRates(reading, timeUs, samples);
    }
  }

  /** Passes on a temperature that still waits for rates: for a stream's end. */
  public void end(Consumer<Sample> samples) {
    release(samples);
  }

  /** Lets timestamps start over, earlier than before. */
  public void restart(Consumer<Sample> samples) {
    release(samples);
    temperatureC = Float.NaN;
    emittedUs = Long.MIN_VALUE;
  }

  private void takeRates(Reading rates, long timeUs, Consumer<Sample> samples) {
    boolean known = !Float.isNaN(temperatureC) && timeUs - temperatureTimeUs <= holdUs;
    if (!known) {
      release(samples);
      emit(rates, timeUs, Float.NaN, false, samples);
      return;
    }
    boolean held = waiting == null;
    waiting = null;
    emit(rates, timeUs, temperatureC, held, samples);
  }

  private void hold(Reading reading, long timeUs) {
    temperatureC = reading.temperatureC();
    temperatureTimeUs = timeUs;
  }

  private void release(Consumer<Sample> samples) {
    if (waiting != null) {
      Reading alone = waiting;
      waiting = null;
      emit(alone, temperatureTimeUs, alone.temperatureC(), false, samples);
    }
  }

  private void emit(
      Reading reading, long timeUs, float temperature, boolean held, Consumer<Sample> samples) {
    // A temperature may bear the time of the rates before it; a sample's time is its key.
    emittedUs = Math.max(timeUs, emittedUs + 1);
    samples.accept(reading.sample(tracker, emittedUs, temperature, held));
  }
}
