package soakbench.api.soaks;

import soakbench.api.http.Table;
import soakbench.model.Sample;
import soakbench.model.Soak;

/**
 * A sample as it is answered.
 *
 * @param temperatureHeld true where the temperature is an earlier one carried forward
 * @param gyroDps rates, deg/s, x y z; null where the line had none
 * @param accelG specific force, g, x y z; null where there was none
 * @param seq the tracker's own line counter, or null
 * @param tMs milliseconds since the tracker's boot, or null
 */
record SampleView(
    long timeUs,
    float temperatureC,
    boolean temperatureHeld,
    float[] gyroDps,
    float[] accelG,
    Long seq,
    Long tMs) {

  static SampleView of(Sample sample) {
    float[] gyroDps = {sample.gxDps(), sample.gyDps(), sample.gzDps()};
    float[] accelG = {sample.axG(), sample.ayG(), sample.azG()};
    return new SampleView(
        sample.timeUs(),
        sample.temperatureC(),
        sample.temperatureHeld(),
        sample.hasRates() ? gyroDps : null,
        sample.hasAcceleration() ? accelG : null,
        counter(sample.seq()),
        counter(sample.tMs()));
  }

  /**
   * The samples with the column names of the lines, so that the file can be judged offline or sent
   * again. A held temperature is left empty: it was not measured there.
   */
  static Table<Sample> table(Soak soak) {
    return new Table<Sample>()
        .column("id", Sample::tracker)
        .time("time", Sample::timeUs)
        .column("since_start_ms", s -> (s.timeUs() - soak.startUs()) / 1_000)
        .column("seq", s -> counter(s.seq()))
        .column("t_ms", s -> counter(s.tMs()))
        .column("temp_c", s -> s.measuredTemperature() ? s.temperatureC() : null)
        .column("gx_dps", Sample::gxDps)
        .column("gy_dps", Sample::gyDps)
        .column("gz_dps", Sample::gzDps)
        .column("ax_g", Sample::axG)
        .column("ay_g", Sample::ayG)
        .column("az_g", Sample::azG);
  }

  private static Long counter(long value) {
    return value < 0 ? null : value;
  }
}
