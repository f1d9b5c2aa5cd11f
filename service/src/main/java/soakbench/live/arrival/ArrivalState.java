package soakbench.live.arrival;

import soakbench.readiness.Heat;

/**
 * A tracker's state by what arrived live. Times ending in {@code Us} are microseconds of the live
 * clock, but for the stamp's.
 *
 * @param tracker the tracker's id
 * @param stampUs its newest reading's own timestamp, right or wrong; {@link Long#MIN_VALUE} where
 *     it has none
 * @param heardUs when that reading arrived
 * @param temperature the newest that arrived; null where none did
 * @param heat what is too hot; null where nothing is
 * @param readings how many there were
 * @param silentAfterUs for how long nothing must arrive to call it silent
 * @param unjudged what arrived since its soak's verdict last moved on
 */
record ArrivalState(
    String tracker,
    long stampUs,
    long heardUs,
    Temperature temperature,
    Heat heat,
    long readings,
    long silentAfterUs,
    Unjudged unjudged) {

  /** A temperature, degC, and when it arrived. */
  record Temperature(double celsius, long atUs) {}

  /**
   * What no verdict includes yet.
   *
   * @param lengthS seconds of the tracker's own time
   * @param sinceUs when the first of them arrived
   */
  record Unjudged(double lengthS, long sinceUs) {}

  /** The newest temperature, degC; null where none arrived. */
  Double temperatureC() {
    return temperature == null ? null : temperature.celsius();
  }

  /** The same by a clock that is so much ahead. */
  ArrivalState ahead(long us) {
    return new ArrivalState(
        tracker,
        stampUs,
        heardUs + us,
        temperature == null
            ? null
            : new Temperature(temperature.celsius(), temperature.atUs() + us),
        heat,
        readings,
        silentAfterUs,
        new Unjudged(unjudged.lengthS(), unjudged.sinceUs() + us));
  }
}
