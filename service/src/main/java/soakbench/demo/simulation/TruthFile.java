package soakbench.demo.simulation;

import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.function.ToDoubleFunction;
import soakbench.demo.unit.Axis;
import soakbench.demo.unit.Correction;
import soakbench.demo.unit.Events;
import soakbench.demo.unit.Handling;
import soakbench.demo.unit.Heating;
import soakbench.demo.unit.Motion;
import soakbench.demo.unit.Room;
import soakbench.demo.unit.SimulatedUnit;

/** Writes what is true of runs as JSON, times in seconds since the common start. */
public final class TruthFile {
  private static final int GRID_S = 10;
  private static final double DEG_PER_SQRT_H = 60;

  private TruthFile() {}

  /**
   * Writes a truth file.
   *
   * @param truths of runs that begin at the same instant
   * @throws IllegalArgumentException if they don't, or there is none
   * @throws IOException if the file can't be written
   */
  public static void write(List<Truth> truths, Path file) throws IOException {
    List<Long> starts = truths.stream().map(t -> t.recipe().startUs()).distinct().toList();
    if (starts.size() != 1) {
      throw new IllegalArgumentException("a truth file is for one start, not " + starts.size());
    }
    Map<String, Object> document = new LinkedHashMap<>();
    document.put("start", Instant.EPOCH.plus(starts.get(0), ChronoUnit.MICROS).toString());
    document.put("trackers", truths.stream().map(TruthFile::tracker).toList());
    write(document, file);
  }

  /**
   * Writes what is true of something else.
   *
   * @throws IOException if the file can't be written
   */
  static void write(Map<String, Object> document, Path file) throws IOException {
    new ObjectMapper().writeValue(file.toFile(), document);
  }

  private static Map<String, Object> tracker(Truth truth) {
    Map<String, Object> out = new LinkedHashMap<>();
    addRun(out, truth.recipe());
    addThermal(out, truth);
    addGyro(out, truth.recipe().unit());
    addEvents(out, truth.recipe().events());
    List<int[]> ready = truth.readyS();
    out.put("ready_intervals_s", ready);
    out.put("ready_s", ready.isEmpty() ? null : ready.get(0)[0]);
    out.put("harmful_intervals_s", truth.harmfulS());
    out.put("hot_intervals_s", truth.hotS());
    out.put("grid", grid(truth));
    return out;
  }

  private static void addRun(Map<String, Object> out, Recipe recipe) {
    SimulatedUnit.Readout readout = recipe.unit().readout();
    out.put("tracker", recipe.unit().id());
    out.put("lot", recipe.unit().lot());
    out.put("mix", recipe.origin().mix());
    out.put("scenarios", recipe.origin().scenarios());
    out.put("plateau_class", plateauClass(recipe.heating().plateauC()));
    out.put("first_sample_s", recipe.stream().firstS());
    out.put("last_sample_s", recipe.durationS());
    out.put("sample_rate_hz", recipe.stream().rateHz());
    out.put("temp_step_c", readout.thermometerStepC());
    out.put("temp_noise_c", readout.thermometerNoiseC());
    out.put("temp_every_s", readout.thermometerEveryS());
    out.put("gyro_step_dps", readout.gyroStepDps());
    out.put("skew_ppm", recipe.unit().skewPpm());
    out.put("has_accel", readout.hasAccelerometer());
    out.put("correction", correction(recipe.correction()));
  }

  /** What the firmware takes off; the other figures are of the bias before that. */
  private static Map<String, Object> correction(Correction correction) {
    Map<String, Object> out = new LinkedHashMap<>();
    out.put("kind", correction.kind().word());
    out.put("time_constant_s", correction.timeConstantS() > 0 ? correction.timeConstantS() : null);
    out.put("hides_drift", correction.hidesDrift());
    return out;
  }

  private static String plateauClass(double plateauC) {
    if (plateauC < 28) {
      return "low";
    }
    if (plateauC <= 34) {
      return "good";
    }
    return plateauC < 45 ? "high" : "burning";
  }

  private static void addThermal(Map<String, Object> out, Truth truth) {
    Heating heating = truth.recipe().heating();
    out.put("plateau_c", heating.plateauC());
    out.put("time_constants_s", List.of(heating.chipS(), heating.bodyS()));
    out.put("slow_mass_s", heating.slowS() > 0 ? heating.slowS() : null);
    out.put("room", room(heating.room()));
    double[] temperatures = truth.temperatureC();
    int first = Math.min(temperatures.length - 1, (int) truth.recipe().stream().firstS());
    double min = temperatures[first];
    double max = min;
    for (int s = first; s < temperatures.length; s++) {
      min = Math.min(min, temperatures[s]);
      max = Math.max(max, temperatures[s]);
    }
    out.put("temp_min_c", round(min, 3));
    out.put("temp_max_c", round(max, 3));
  }

  /** What is added to the mean of the surroundings; the grid has it in it. */
  private static Map<String, Object> room(Room room) {
    Map<String, Object> out = new LinkedHashMap<>();
    out.put("swing_c", round(2 * room.halfC(), 3));
    out.put("period_s", room.halfC() > 0 ? round(room.periodS(), 1) : null);
    out.put("shape", room.halfC() > 0 ? room.shape().name().toLowerCase(Locale.ROOT) : null);
    out.put("drift_c_per_h", round(3600 * room.driftCPerS(), 3));
    return out;
  }

  private static void addGyro(Map<String, Object> out, SimulatedUnit unit) {
    out.put("bias_coeffs_about_31c", unit.axes().stream().map(Axis::coefficients).toList());
    out.put("tempco_31c_dps_per_c", each(unit, a -> a.coefficients()[1]));
    out.put("lag_dps_per_c_per_s", each(unit, Axis::lagDpsPerCPerS));
    out.put("hysteresis_dps", List.of(0.0, 0.0, 0.0));
    out.put("settle_dps", each(unit, a -> a.settling().dps()));
    out.put("N_dps_per_sqrt_hz", each(unit, a -> a.noise().whiteDps()));
    out.put("N_deg_per_sqrt_h", each(unit, a -> a.noise().whiteDps() * DEG_PER_SQRT_H));
    out.put("B_deg_per_h", each(unit, a -> a.noise().flickerDegPerH()));
    out.put("K_dps_per_sqrt_s", each(unit, a -> a.noise().walkDpsPerSqrtS()));
    out.put("N_step_note", "Allan convention: sigma(1 s) = N");
  }

  private static List<Double> each(SimulatedUnit unit, ToDoubleFunction<Axis> figure) {
    return unit.axes().stream().map(figure::applyAsDouble).toList();
  }

  private static void addEvents(Map<String, Object> out, Events events) {
    List<Object> motions = new ArrayList<>();
    for (Motion m : events.motions()) {
      String kind = m.kind() == Motion.Kind.BURST ? "burst" : "turn";
      motions.add(List.of(m.fromS(), m.toS(), kind));
    }
    out.put("motion", motions);
    out.put(
        "lid",
        events.uncoverings().stream().map(l -> List.of(l.fromS(), l.toS(), -l.dropC())).toList());
    out.put("off", events.powerOffs().stream().map(s -> List.of(s.fromS(), s.toS())).toList());
    out.put("gaps", events.gaps().stream().map(s -> List.of(s.fromS(), s.toS())).toList());
    out.put("handlings", events.handlings().stream().map(TruthFile::handling).toList());
  }

  private static Map<String, Object> handling(Handling handling) {
    Map<String, Object> out = new LinkedHashMap<>();
    out.put("kind", handling.kind().word());
    out.put("calibration", handling.kind().calibration());
    out.put("from_s", handling.fromS());
    out.put("to_s", handling.toS());
    out.put("rests", handling.rests().stream().map(s -> List.of(s.fromS(), s.toS())).toList());
    out.put("rebooted", handling.rebooted());
    return out;
  }

  private static Map<String, Object> grid(Truth truth) {
    Map<String, Object> grid = new LinkedHashMap<>();
    grid.put("step_s", GRID_S);
    grid.put("temp_c", thinned(truth.temperatureC(), 3));
    grid.put("rate_c_per_min", thinned(truth.rateCPerMin(), 4));
    grid.put("shift180_dps", thinned(truth.shiftDps(), 5));
    return grid;
  }

  private static List<Double> thinned(double[] values, int decimals) {
    List<Double> out = new ArrayList<>();
    for (int s = 0; s < values.length; s += GRID_S) {
      out.add(round(values[s], decimals));
    }
    return out;
  }

  private static double round(double value, int decimals) {
    double scale = Math.pow(10, decimals);
    return Math.rint(value * scale) / scale;
  }
}
