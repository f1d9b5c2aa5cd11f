package soakbench.demo.simulation;

import java.util.SplittableRandom;
import soakbench.demo.lines.FaultInjector;
import soakbench.demo.lines.LineBuffer;
import soakbench.demo.lines.LineValues;
import soakbench.demo.lines.LineWriter;
import soakbench.demo.unit.Attitude;
import soakbench.demo.unit.Corrector;
import soakbench.demo.unit.Gyro;
import soakbench.demo.unit.SimulatedUnit;
import soakbench.demo.unit.ThermalModel;

/**
 * One tracker's output for one run, made as time goes on. The same recipe gives the same bytes, at
 * whatever pace they are asked for. Not thread-safe.
 */
public final class SimulatedTracker {
  private static final long T_MS_WRAP = 1L << 32;
  private static final double STILL_NOISE_G = 0.002;
  private static final double MOVING_NOISE_G = 0.08;
  private static final double POWER_ON_C = 85;

  private final Recipe recipe;
  private final ThermalModel thermal;
  private final Attitude attitude;
  private final Gyro gyro;
  private final Corrector corrector;
  private final LineWriter writer;
  private final FaultInjector injector;
  private final SplittableRandom random;
  private final LineValues values = new LineValues();

  private long index;
  private double timeS;
  private double chipBeforeC;
  private double bootS;
  private long bootMs;
  private long seq;
  private boolean powered;
  private long arrivalUs = Long.MIN_VALUE;
  private double thermometerS = Double.NEGATIVE_INFINITY;
  private double thermometerC;

  public SimulatedTracker(Recipe recipe) {
    SplittableRandom root = new SplittableRandom(recipe.run().seed());
    this.recipe = recipe;
    this.random = root.split();
    this.attitude = new Attitude(recipe.events().motions());
    this.gyro = new Gyro(recipe.unit(), recipe.stream().rateHz(), attitude, root.split());
    this.corrector =
        new Corrector(
            recipe.correction(),
            recipe.unit(),
            recipe.stream().rateHz(),
            recipe.events().handlings());
    this.injector = new FaultInjector(recipe.stream(), root.split());
    this.writer = new LineWriter(recipe.stream(), recipe.unit());
    this.thermal = new ThermalModel(recipe.heating(), recipe.events());
    this.chipBeforeC = thermal.chipC();
    this.bootMs = recipe.stream().bootMs();
    this.timeS = recipe.stream().firstS();
    thermal.step();
  }

  public Recipe recipe() {
    return recipe;
  }

  /**
   * When the next line is due, microseconds since 1970; {@link Long#MAX_VALUE} when the run is
   * over.
   */
  public long nextUs() {
    return timeS < recipe.durationS() ? recipe.startUs() + micros(timeS) : Long.MAX_VALUE;
  }

  /**
   * Appends what the tracker prints at {@link #nextUs} and goes on to the next moment. That may be
   * nothing (no power, a line lost) or more than a line (chatter).
   */
  public void next(LineBuffer out) {
    advance();
    if (recipe.events().poweredOff(timeS)) {
      powered = false;
    } else {
      boolean boots = !powered;
      if (boots) {
        boot(out);
      }
      if (!recipe.events().gap(timeS)) {
        read(boots);
        print(out);
      }
      seq++;
    }
    index++;
    timeS = recipe.stream().firstS() + index / recipe.stream().rateHz();
  }

  private void advance() {
    while (thermal.second() < timeS) {
      chipBeforeC = thermal.chipC();
      thermal.step();
      gyro.step();
    }
    attitude.advanceTo(timeS);
  }

  private void boot(LineBuffer out) {
    powered = true;
    bootS = timeS;
    if (index > 0) {
      bootMs = 1000 + random.nextInt(3000);
    }
    seq = 0;
    gyro.boot();
    corrector.boot(timeS);
    injector.boot(out);
    writer.start(out);
  }

  private void read(boolean first) {
    double fraction = timeS - (thermal.second() - 1);
    double chipC = chipBeforeC + fraction * (thermal.chipC() - chipBeforeC);
    double sinceBootS = timeS - bootS;
    for (int i = 0; i < 3; i++) {
      values.gyroDps[i] = gyro.readDps(i, attitude, chipC, thermal.rateCPerS(), sinceBootS);
    }
    corrector.correct(values.gyroDps, timeS, attitude.moving());
    readAccelerometer();
    SimulatedUnit unit = recipe.unit();
    readThermometer(chipC);
    boolean notYetMeasured = first && recipe.stream().faults().outOfRangePerH() > 0;
    values.temperatureC = notYetMeasured ? POWER_ON_C : thermometerC;
    values.seq = seq;
    values.tMs = (bootMs + Math.round(sinceBootS * 1000 * (1 + unit.skewPpm() * 1e-6))) % T_MS_WRAP;
    values.timeUs = recipe.startUs() + micros(timeS);
    values.arrivalUs = arrivalUs();
  }

  private void readThermometer(double chipC) {
    SimulatedUnit.Readout readout = recipe.unit().readout();
    double readC = chipC + readout.thermometerNoiseC() * random.nextGaussian();
    if (timeS - thermometerS >= readout.thermometerEveryS()) {
      double step = readout.thermometerStepC();
      thermometerC = step > 0 ? Math.rint(readC / step) * step : readC;
      thermometerS = timeS;
    }
  }

  private void readAccelerometer() {
    if (recipe.unit().readout().hasAccelerometer()) {
      double noise = attitude.moving() ? MOVING_NOISE_G : STILL_NOISE_G;
      for (int i = 0; i < 3; i++) {
        values.accelG[i] = attitude.upG()[i] + noise * random.nextGaussian();
      }
    }
  }

  /** Lines arrive late by an exponential delay, and in order. */
  private long arrivalUs() {
    double delayS = recipe.stream().jitterS();
    if (delayS > 0) {
      delayS *= random.nextExponential();
    }
    arrivalUs = Math.max(arrivalUs, values.timeUs + micros(delayS));
    return arrivalUs;
  }

  private void print(LineBuffer out) {
    injector.before(out);
    injector.corrupt(values);
    int from = out.length();
    writer.line(out, values);
    injector.truncate(out, from);
  }

  private static long micros(double seconds) {
    return Math.round(seconds * 1e6);
  }
}
