package soakbench.api.soaks;

import java.util.function.Function;
import soakbench.api.http.Table;
import soakbench.model.Axes;
import soakbench.model.Bin;
import soakbench.model.Soak;

/**
 * One second of one tracker as it is answered.
 *
 * @param timeUs when the second begins
 * @param boot how often the tracker was seen to reboot since its soak began
 * @param temperatureC the temperature's count, mean and sd, degC
 * @param gyroDps the rates' count, mean and sd, deg/s, x y z
 * @param accelG the specific forces' count, mean and sd, g, x y z
 */
record BinView(
    long timeUs,
    int boot,
    Bin.Channel temperatureC,
    Bin.Channel[] gyroDps,
    Bin.Channel[] accelG,
    double temperatureStepC,
    double gyroStepDps) {
  private static final long US_PER_S = 1_000_000L;

  static BinView of(Bin bin) {
    return new BinView(
        bin.second() * US_PER_S,
        bin.boot(),
        bin.temperatureC(),
        bin.gyroDps(),
        bin.accelG(),
        bin.temperatureStepC(),
        bin.gyroStepDps());
  }

  static Table<Bin> table(Soak soak) {
    Table<Bin> table =
        new Table<Bin>()
            .time("time", b -> b.second() * US_PER_S)
            .column("since_start_ms", b -> (b.second() * US_PER_S - soak.startUs()) / 1_000)
            .column("boot", Bin::boot);
    channel(table, "temperature", "c", Bin::temperatureC);
    for (int i = 0; i < Axes.NAMES.size(); i++) {
      int axis = i;
      channel(table, "g" + Axes.NAMES.get(i), "dps", b -> b.gyroDps()[axis]);
    }
    for (int i = 0; i < Axes.NAMES.size(); i++) {
      int axis = i;
      channel(table, "a" + Axes.NAMES.get(i), "g", b -> b.accelG()[axis]);
    }
    return table
        .column("temperature_step_c", Bin::temperatureStepC)
        .column("gyro_step_dps", Bin::gyroStepDps);
  }

  private static void channel(
      Table<Bin> table, String name, String unit, Function<Bin, Bin.Channel> of) {
    table
        .column(name + "_" + unit, b -> of.apply(b).mean())
        .column(name + "_sd_" + unit, b -> of.apply(b).sd())
        .column(name + "_count", b -> of.apply(b).count());
  }
}
