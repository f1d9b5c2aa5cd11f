package soakbench.readiness.estimator;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Set;
import java.util.SplittableRandom;
import soakbench.demo.simulation.Mix;
import soakbench.demo.simulation.Recipe;
import soakbench.demo.simulation.RecipeGenerator;
import soakbench.demo.simulation.SimulateOptions;
import soakbench.demo.simulation.Strange;
import soakbench.demo.simulation.Trouble;
import soakbench.demo.unit.Attitude;
import soakbench.demo.unit.Axis;
import soakbench.demo.unit.Events;
import soakbench.demo.unit.Gyro;
import soakbench.demo.unit.Heating;
import soakbench.demo.unit.Motion;
import soakbench.demo.unit.Room;
import soakbench.demo.unit.SimulatedUnit;
import soakbench.demo.unit.Span;
import soakbench.demo.unit.ThermalModel;
import soakbench.demo.unit.Uncovering;
import soakbench.model.Bin;
import soakbench.model.Bin.Channel;

/**
 * An hour of one simulated tracker: its seconds, made without printing lines, and what is true of
 * each. It works the truth out by itself, beside {@link soakbench.demo.simulation.Truth}.
 */
final class TrackedRun {
  static final int SECONDS = 3600;
  private static final int AHEAD_S = 180;
  private static final double[] RATES_HZ = {5, 10, 20, 25, 10};

  private final Recipe recipe;
  private final SimulatedUnit unit;
  private final Events events;
  private final double firstS;
  private final long seed;

  /** True at each second, of the run. */
  final double[] temperatureC = new double[SECONDS];

  final double[] rateCPerMin = new double[SECONDS];
  final double[][] shiftDps = new double[SECONDS][3];
  final double[] greatestDps = new double[SECONDS];
  final boolean[] ready = new boolean[SECONDS];
  final boolean[] harmful = new boolean[SECONDS];
  final List<Bin> bins = new ArrayList<>();

  TrackedRun(Recipe recipe, long seed) {
    this.recipe = recipe;
    this.unit = recipe.unit();
    this.events = recipe.events();
    this.firstS = recipe.stream().firstS();
    this.seed = seed;
    truth();
    makeBins();
  }

  /** A tracker of a mix, and what happens to it whatever the mix draws. */
  static TrackedRun of(Mix mix, long seed, Trouble... sure) {
    return new TrackedRun(recipe(mix, seed, sure), seed);
  }

  static Recipe recipe(Mix mix, long seed, Trouble... sure) {
    long turn = mix == Mix.STRANGE ? Math.floorDiv(seed, Strange.values().length) : seed;
    return RecipeGenerator.recipe(
        SimulateOptions.usual(seed)
            .withMix(mix)
            .printing(RATES_HZ[(int) Math.floorMod(turn, RATES_HZ.length)])
            .with(Set.of(sure)));
  }

  private static double steepest(SimulatedUnit unit) {
    return unit.axes().stream().mapToDouble(a -> Math.abs(a.coefficients()[1])).max().orElse(1);
  }

  /** The greatest temperature coefficient of its axes, deg/s per degC. */
  double steepest() {
    return steepest(unit);
  }

  String words() {
    Heating heating = recipe.heating();
    Room room = heating.room();
    return unit.id()
        + " "
        + String.join(",", recipe.origin().scenarios())
        + String.format(
            " tau %.0f chip %.0f P %.1f c %.3f q %.4f room %.2f/%.0f %s drift %.2f/h lids %s",
            heating.bodyS(),
            heating.chipS(),
            heating.plateauC(),
            steepest(unit),
            unit.readout().thermometerStepC(),
            room.halfC(),
            room.periodS(),
            room.shape(),
            3600 * room.driftCPerS(),
            events.uncoverings().stream().map(l -> (int) l.fromS() + "-" + (int) l.toS()).toList());
  }

  /** The first word of what is in it. */
  String kind() {
    return recipe.origin().scenarios().get(0);
  }

  boolean cycling() {
    return recipe.heating().room().halfC() > 0;
  }

  boolean coarse() {
    return unit.readout().thermometerStepC() > 0.2;
  }

  Events events() {
    return events;
  }

  double firstS() {
    return firstS;
  }

  private void truth() {
    ThermalModel heat = new ThermalModel(recipe.heating(), events);
    int held = 0;
    for (int s = 0; s < SECONDS; s++) {
      temperatureC[s] = heat.chipC();
      rateCPerMin[s] = 60 * heat.rateCPerS();
      shift(heat, s);
      boolean outside = temperatureC[s] < 28 || temperatureC[s] > 34;
      boolean good =
          s >= firstS
              && !outside
              && Math.abs(rateCPerMin[s]) <= 0.10
              && greatestDps[s] <= 0.010
              && quiet(s);
      held = good ? held + 1 : 0;
      ready[s] = held > 60;
      harmful[s] = greatestDps[s] > 0.015 || temperatureC[s] < 27.7 || temperatureC[s] > 34.3;
      heat.step();
    }
  }

  private void shift(ThermalModel now, int s) {
    double boot = bootS(s);
    double[] before = biases(now, s - boot);
    double lid = events.uncoveredDropC(s);
    double chipLid = events.uncoveredChipDropC(s);
    ThermalModel later = now.copy();
    for (int ahead = 1; ahead <= AHEAD_S; ahead++) {
      later.step(lid, chipLid);
      if (ahead % 10 == 0) {
        double[] after = biases(later, s + ahead - boot);
        for (int i = 0; i < 3; i++) {
          shiftDps[s][i] = after[i] - before[i];
          greatestDps[s] = Math.max(greatestDps[s], Math.abs(shiftDps[s][i]));
        }
      }
    }
  }

  private double[] biases(ThermalModel heat, double sinceBootS) {
    double[] out = new double[3];
    for (int i = 0; i < 3; i++) {
      Axis axis = unit.axes().get(i);
      out[i] = axis.biasDps(heat.chipC(), heat.rateCPerS(), sinceBootS);
    }
    return out;
  }

  private double bootS(double timeS) {
    double boot = firstS;
    for (Span off : events.powerOffs()) {
      boot = off.toS() <= timeS ? off.toS() : boot;
    }
    return Math.min(boot, timeS);
  }

  private boolean quiet(int s) {
    return events.motions().stream().noneMatch(m -> m.fromS() < s + 1 && m.toS() > s)
        && events.powerOffs().stream().noneMatch(o -> o.fromS() < s + 1 && o.toS() > s)
        && events.gaps().stream().noneMatch(o -> o.fromS() < s + 1 && o.toS() > s);
  }

  /** Whether something that nobody could foresee happens between two seconds. */
  boolean disturbed(double from, double to) {
    boolean any = false;
    for (Motion m : events.motions()) {
      any |= m.fromS() <= to && m.toS() >= from;
    }
    for (Uncovering l : events.uncoverings()) {
      any |= l.fromS() <= to && l.toS() >= from;
    }
    for (List<Span> spans : List.of(events.powerOffs(), events.gaps())) {
      for (Span s : spans) {
        any |= s.fromS() <= to && s.toS() >= from;
      }
    }
    return any;
  }

  private void makeBins() {
    SplittableRandom random = new SplittableRandom(seed * 7 + 3);
    Attitude attitude = new Attitude(events.motions());
    double rateHz = recipe.stream().rateHz();
    Gyro gyro = new Gyro(unit, rateHz, attitude, random.split());
    ThermalModel heat = new ThermalModel(recipe.heating(), events);
    double chipBefore = heat.chipC();
    heat.step();
    int done = 1;
    boolean powered = false;
    double boot = firstS;
    int boots = -1;
    double shownC = Double.NaN;
    double shownS = Double.NEGATIVE_INFINITY;
    Second open = null;
    for (long i = 0; firstS + i / rateHz < SECONDS; i++) {
      double t = firstS + i / rateHz;
      while (done < t) {
        chipBefore = heat.chipC();
        heat.step();
        done++;
        gyro.step();
      }
      attitude.advanceTo(t);
      if (events.poweredOff(t)) {
        powered = false;
        continue;
      }
      if (!powered) {
        powered = true;
        boot = t;
        boots++;
        gyro.boot();
      }
      if (events.gap(t)) {
        continue;
      }
      double chip = chipBefore + (t - (done - 1)) * (heat.chipC() - chipBefore);
      double[] g = new double[3];
      for (int a = 0; a < 3; a++) {
        g[a] = gyro.readDps(a, attitude, chip, heat.rateCPerS(), t - boot);
      }
      if (t - shownS >= unit.readout().thermometerEveryS()) {
        double read = chip + unit.readout().thermometerNoiseC() * random.nextGaussian();
        double q = unit.readout().thermometerStepC();
        shownC = q > 0 ? Math.rint(read / q) * q : read;
        shownS = t;
      }
      if (open == null || open.second != (int) t) {
        close(open);
        open = new Second((int) t, boots, (int) Math.ceil(rateHz) + 1);
      }
      double[] up = attitude.upG();
      double noise = attitude.moving() ? 0.08 : 0.002;
      double[] accel = new double[3];
      for (int a = 0; a < 3 && unit.readout().hasAccelerometer(); a++) {
        accel[a] = up[a] + noise * random.nextGaussian();
      }
      open.add(t, shownC, g, accel);
    }
    close(open);
  }

  private void close(Second s) {
    if (s != null && s.n > 0) {
      bins.add(s.bin(unit.id(), unit.readout().hasAccelerometer()));
    }
  }

  /** The readings of one second. */
  private static final class Second {
    private final int second;
    private final int boot;
    private final double[][] values;
    private int n;
    private double firstS;
    private double lastS;

    Second(int second, int boot, int most) {
      this.second = second;
      this.boot = boot;
      this.values = new double[7][most];
    }

    void add(double t, double c, double[] g, double[] accel) {
      firstS = n == 0 ? t : firstS;
      lastS = t;
      values[0][n] = c;
      for (int a = 0; a < 3; a++) {
        values[1 + a][n] = g[a];
        values[4 + a][n] = accel[a];
      }
      n++;
    }

    Bin bin(String id, boolean accelerometer) {
      long base = 1_767_254_400L;
      Channel[] g = {channel(1), channel(2), channel(3)};
      Channel none = Channel.EMPTY;
      Channel[] a =
          accelerometer
              ? new Channel[] {channel(4), channel(5), channel(6)}
              : new Channel[] {none, none, none};
      double gyroStep = Math.min(step(1), Math.min(step(2), step(3)));
      return new Bin(
          id,
          base + second,
          base * 1_000_000 + Math.round(firstS * 1e6),
          base * 1_000_000 + Math.round(lastS * 1e6),
          boot,
          channel(0),
          g,
          a,
          finite(step(0)),
          finite(gyroStep));
    }

    private static double finite(double step) {
      return step == Double.POSITIVE_INFINITY ? Double.NaN : step;
    }

    private Channel channel(int k) {
      double mean = 0;
      for (int i = 0; i < n; i++) {
        mean += values[k][i] / n;
      }
      double sum = 0;
      boolean same = true;
      for (int i = 0; i < n; i++) {
        sum += (values[k][i] - mean) * (values[k][i] - mean);
        same &= values[k][i] == values[k][0];
      }
      mean = same ? values[k][0] : mean;
      return new Channel(n, mean, n < 2 ? Double.NaN : same ? 0 : Math.sqrt(sum / (n - 1)));
    }

    private double step(int k) {
      double[] sorted = Arrays.copyOf(values[k], n);
      Arrays.sort(sorted);
      double least = Double.POSITIVE_INFINITY;
      for (int i = 1; i < n; i++) {
        double d = sorted[i] - sorted[i - 1];
        least = d > 1e-9 ? Math.min(least, d) : least;
      }
      return least;
    }
  }
}
