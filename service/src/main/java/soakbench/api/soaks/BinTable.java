package soakbench.api.soaks;

import java.util.function.Function;
import java.util.stream.Stream;
import soakbench.api.http.Table;
import soakbench.model.Bin;
import soakbench.model.BinSpan;
import soakbench.model.Soak;

/** One second of one tracker as it is answered: each channel's count, mean and sd. */
final class BinTable {
  private static final long US_PER_S = 1_000_000L;

  /**
   * Steps of what is drawn, a hundredth of what any chip's second tells: digits cost most of it.
   */
  private static final double STEPS_PER_C = 1e4;

  private static final double STEPS_PER_DPS = 1e6;
  private static final double STEPS_PER_G = 1e6;

  private BinTable() {}

  static Table<Bin> of(Soak soak) {
    Table<Bin> table =
        new Table<Bin>()
            .time("time", b -> b.second() * US_PER_S)
            .cell("since_start_ms", b -> (b.second() * US_PER_S - soak.startUs()) / 1_000)
            .column("boot", Bin::boot)
            .member("temperature_c", Bin::temperatureC)
            .member("gyro_dps", Bin::gyroDps)
            .member("accel_g", Bin::accelG);
    channel(table, "temperature", "c", Bin::temperatureC);
    return table
        .eachAxis((axis, i) -> channel(table, "g" + axis, "dps", b -> b.gyroDps()[i]))
        .eachAxis((axis, i) -> channel(table, "a" + axis, "g", b -> b.accelG()[i]))
        .column("temperature_step_c", Bin::temperatureStepC)
        .column("gyro_step_dps", Bin::gyroStepDps);
  }

  /** Some seconds together: each channel's least, mean and greatest second. */
  static Table<BinSpan> spans() {
    Table<BinSpan> table =
        new Table<BinSpan>()
            .time("time", b -> b.fromSecond() * US_PER_S)
            .time("until", b -> b.endSecond() * US_PER_S)
            .column("seconds", BinSpan::seconds)
            .column("boot", BinSpan::boot)
            .member("temperature_c", b -> b.temperatureC().rounded(STEPS_PER_C))
            .member("gyro_dps", b -> rounded(b.gyroDps(), STEPS_PER_DPS))
            .member("accel_g", b -> rounded(b.accelG(), STEPS_PER_G));
    extent(table, "temperature", "c", b -> b.temperatureC().rounded(STEPS_PER_C));
    return table
        .eachAxis(
            (axis, i) ->
                extent(table, "g" + axis, "dps", b -> b.gyroDps()[i].rounded(STEPS_PER_DPS)))
        .eachAxis(
            (axis, i) -> extent(table, "a" + axis, "g", b -> b.accelG()[i].rounded(STEPS_PER_G)))
        .column("gyro_sd_dps", b -> BinSpan.Extent.rounded(b.gyroSdDps(), STEPS_PER_DPS));
  }

  private static BinSpan.Extent[] rounded(BinSpan.Extent[] axes, double steps) {
    return Stream.of(axes).map(e -> e.rounded(steps)).toArray(BinSpan.Extent[]::new);
  }

  private static void extent(
      Table<BinSpan> table, String name, String unit, Function<BinSpan, BinSpan.Extent> of) {
    table
        .cell(name + "_low_" + unit, b -> of.apply(b).low())
        .cell(name + "_" + unit, b -> of.apply(b).mean())
        .cell(name + "_high_" + unit, b -> of.apply(b).high());
  }

  private static void channel(
      Table<Bin> table, String name, String unit, Function<Bin, Bin.Channel> of) {
    table
        .cell(name + "_" + unit, b -> of.apply(b).mean())
        .cell(name + "_sd_" + unit, b -> of.apply(b).sd())
        .cell(name + "_count", b -> of.apply(b).count());
  }
}
