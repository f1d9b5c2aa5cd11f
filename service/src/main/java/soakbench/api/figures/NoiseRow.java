package soakbench.api.figures;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Function;
import soakbench.api.http.Table;
import soakbench.drift.noise.Noise;

/**
 * One averaging time of one axis, as a row of a table; what is read off an axis' deviations stands
 * in each of its rows.
 *
 * @param axis null where there are no figures: then the one row says why
 * @param place of the averaging time; -1 where the axis has none
 */
record NoiseRow(Noise of, Noise.Axis axis, int place) {
  static final Table<NoiseRow> TABLE =
      new Table<NoiseRow>()
          .cell("axis", r -> r.axis(Noise.Axis::axis))
          .cell("tau_s", r -> r.at(Noise.Deviations::tauS))
          .cell("adev_dps", r -> r.at(Noise.Deviations::adevDps))
          .cell("adev_low_dps", r -> r.at(Noise.Deviations::adevLowDps))
          .cell("adev_high_dps", r -> r.at(Noise.Deviations::adevHighDps))
          .estimateCells(
              "angle_random_walk_deg_per_sqrt_h",
              r -> r.axis(Noise.Axis::angleRandomWalkDegPerSqrtH))
          .estimateCells(
              "bias_instability_deg_per_h", r -> r.axis(Noise.Axis::biasInstabilityDegPerH))
          .estimateCells(
              "rate_random_walk_dps_per_sqrt_s", r -> r.axis(Noise.Axis::rateRandomWalkDpsPerSqrtS))
          .cell("sample_rate_hz", r -> r.of.sampleRateHz())
          .cell("reason", r -> r.of.reason())
          .cell("note", r -> r.axis(Noise.Axis::note));

  /** All rows; at least one. */
  static List<NoiseRow> of(Noise noise) {
    List<NoiseRow> rows = new ArrayList<>();
    for (Noise.Axis axis : noise.axes()) {
      int count = axis.deviations().tauS().length;
      for (int place = count == 0 ? -1 : 0; place < count; place++) {
        rows.add(new NoiseRow(noise, axis, place));
      }
    }
    return rows.isEmpty() ? List.of(new NoiseRow(noise, null, -1)) : rows;
  }

  private <T> T axis(Function<Noise.Axis, T> part) {
    return axis == null ? null : part.apply(axis);
  }

  private Double at(Function<Noise.Deviations, double[]> part) {
    return place < 0 ? null : part.apply(axis.deviations())[place];
  }
}
