package soakbench.demo.simulation;

import java.util.SplittableRandom;
import soakbench.demo.lines.DirtMaker;
import soakbench.demo.lines.LineBuffer;
import soakbench.demo.lines.LineForm;
import soakbench.demo.lines.Shown;
import soakbench.demo.unit.Attitude;
import soakbench.demo.unit.Corrector;
import soakbench.demo.unit.Gyro;
import soakbench.demo.unit.Heat;
import soakbench.demo.unit.SimulatedUnit;

/**
 * One tracker's output for one run, made as time goes on. The same recipe gives the same bytes, at
 * whatever pace they are asked for. Not for several threads.
 */
public final class SimulatedTracker {
  private static final long COUNTER = 1L << 32;
  private static final double REST_NOISE_G = 0.002;
  private static final double HAND_NOISE_G = 0.08;
  private static final double POWER_ON_C = 85;

  private final Recipe recipe;
  private final Heat heat;
  private final Attitude attitude;
  private final Gyro gyro;
  private final Corrector corrector;
  private final LineForm form;
  private final DirtMaker dirt;
  private final SplittableRandom random;
  private final Shown shown = new Shown();

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
    this.dirt = new DirtMaker(recipe.stream(), root.split());
    this.form = new LineForm(recipe.stream(), recipe.unit());
    this.heat = new Heat(recipe.heating(), recipe.events());
    this.chipBeforeC = heat.chipC();
    this.bootMs = recipe.stream().bootMs();
    this.timeS = recipe.stream().firstS();
    heat.step();
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
    if (recipe.events().off(timeS)) {
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
    while (heat.second() < timeS) {
      chipBeforeC = heat.chipC();
      heat.step();
      gyro.step();
    }
    attitude.goTo(timeS);
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
    dirt.boot(out);
    form.start(out);
  }

  private void read(boolean first) {
    double part = timeS - (heat.second() - 1);
    double chipC = chipBeforeC + part * (heat.chipC() - chipBeforeC);
    double sinceBootS = timeS - bootS;
    for (int i = 0; i < 3; i++) {
      shown.gyroDps[i] = gyro.readDps(i, attitude, chipC, heat.rateCPerS(), sinceBootS);
    }
    corrector.correct(shown.gyroDps, timeS, attitude.moving());
    readAccelerometer();
    SimulatedUnit unit = recipe.unit();
    readThermometer(chipC);
    boolean unset = first && recipe.stream().dirt().absurdPerH() > 0;
    shown.temperatureC = unset ? POWER_ON_C : thermometerC;
    shown.seq = seq;
    shown.tMs = (bootMs + Math.round(sinceBootS * 1000 * (1 + unit.skewPpm() * 1e-6))) % COUNTER;
    shown.timeUs = recipe.startUs() + micros(timeS);
    shown.arrivalUs = arrivalUs();
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
      double noise = attitude.moving() ? HAND_NOISE_G : REST_NOISE_G;
      for (int i = 0; i < 3; i++) {
        shown.accelG[i] = attitude.upG()[i] + noise * random.nextGaussian();
      }
    }
  }

  /** Lines arrive late by an exponential delay, and in order. */
  private long arrivalUs() {
    double delayS = recipe.stream().jitterS();
    if (delayS > 0) {
      delayS *= random.nextExponential();
    }
    arrivalUs = Math.max(arrivalUs, shown.timeUs + micros(delayS));
    return arrivalUs;
  }

  private void print(LineBuffer out) {
    dirt.before(out);
    dirt.spoil(shown);
    int from = out.length();
    form.line(out, shown);
    dirt.cut(out, from);
  }

  private static long micros(double seconds) {
    return Math.round(seconds * 1e6);
  }
}
