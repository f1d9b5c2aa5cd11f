package soakbench.live.arrival;

import soakbench.readiness.Heat;

/**
 * How one tracker stands by what arrived of it, of now alone. Times ending in {@code Us} are
 * microseconds of the live clock, but for the stamp's.
 *
 * @param tracker the tracker's id
 * @param stampUs what its newest reading says of its time, right or wrong; {@link Long#MIN_VALUE}
 *     where it says none
 * @param heardUs when that reading arrived
 * @param temperatureC the newest temperature that arrived, degC; null where none did
 * @param temperatureUs when it arrived
 * @param heat what is too hot; null where nothing is
 * @param readings how many there were
 * @param unjudgedS seconds of its own time that arrived since its soak's verdict last moved on
 * @param unjudgedSinceUs when the first of them arrived
 */
record Arrived(
    String tracker,
    long stampUs,
    long heardUs,
    Double temperatureC,
    long temperatureUs,
    Heat heat,
    long readings,
    double unjudgedS,
    long unjudgedSinceUs) {

  /** The same by a clock that is so much ahead. */
  Arrived ahead(long us) {
    return new Arrived(
        tracker,
        stampUs,
        heardUs + us,
        temperatureC,
        temperatureUs + us,
        heat,
        readings,
        unjudgedS,
        unjudgedSinceUs + us);
  }
}
