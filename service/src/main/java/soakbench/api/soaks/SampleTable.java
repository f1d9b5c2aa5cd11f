package soakbench.api.soaks;

import soakbench.api.http.Table;
import soakbench.model.Sample;
import soakbench.model.Soak;

/**
 * A sample as it is answered. The columns have the names of the lines, so that the file can be
 * judged offline or sent again; there a held temperature is left empty: it was not measured.
 */
final class SampleTable {
  private SampleTable() {}

  static Table<Sample> of(Soak soak) {
    return new Table<Sample>()
        .cell("id", Sample::tracker)
        .time("time", Sample::timeUs)
        .cell("since_start_ms", s -> (s.timeUs() - soak.startUs()) / 1_000)
        .cell("seq", s -> counter(s.seq()))
        .cell("t_ms", s -> counter(s.tMs()))
        .cell("temp_c", s -> s.measuredTemperature() ? s.temperatureC() : null)
        .cell("gx_dps", Sample::gxDps)
        .cell("gy_dps", Sample::gyDps)
        .cell("gz_dps", Sample::gzDps)
        .cell("ax_g", Sample::axG)
        .cell("ay_g", Sample::ayG)
        .cell("az_g", Sample::azG)
        .member("temperature_c", Sample::temperatureC)
        .member("temperature_held", Sample::temperatureHeld)
        .member("gyro_dps", s -> s.hasRates() ? triple(s.gxDps(), s.gyDps(), s.gzDps()) : null)
        .member("accel_g", s -> s.hasAcceleration() ? triple(s.axG(), s.ayG(), s.azG()) : null)
        .member("seq", s -> counter(s.seq()))
        .member("t_ms", s -> counter(s.tMs()));
  }

  private static float[] triple(float x, float y, float z) {
    return new float[] {x, y, z};
  }

  /** Null where the tracker sends none. */
  private static Long counter(long value) {
    return value < 0 ? null : value;
  }
}
