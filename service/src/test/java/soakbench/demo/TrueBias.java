package soakbench.demo;

import java.util.SplittableRandom;
import soakbench.demo.simulation.Recipe;
import soakbench.demo.unit.Attitude;
import soakbench.demo.unit.Axis;
import soakbench.demo.unit.Gyro;
import soakbench.demo.unit.SimulatedUnit;
import soakbench.demo.unit.ThermalModel;

/**
 * The bias of a simulated run second by second, as the mean over all directions that it could lie
 * in: with temperature, boot offset and slow noise, without white noise, the Earth and the face's
 * gravity. A wearer turns about, so this is what a calibration has to take off.
 */
public final class TrueBias {
  private TrueBias() {}

  /** deg/s, by second of the run and axis. */
  public static double[][] dps(Recipe recipe) {
    SimulatedUnit unit = recipe.unit();
    SplittableRandom root = new SplittableRandom(recipe.run().seed());
    root.split(); // the tracker's own, as SimulatedTracker draws it
    Attitude attitude = new Attitude(recipe.events().motions());
    Gyro gyro = new Gyro(quiet(unit), recipe.stream().rateHz(), attitude, root.split());
    double[] startUpG = attitude.upG().clone();
    ThermalModel heat = new ThermalModel(recipe.heating(), recipe.events());
    double[][] dps = new double[(int) recipe.durationS()][3];
    boolean powered = false;
    double bootS = 0;
    for (int s = 0; s < dps.length; s++) {
      attitude.advanceTo(s);
      boolean off = recipe.events().poweredOff(s);
      if (!off && !powered) {
        gyro.boot();
        bootS = s;
      }
      powered = !off;
      for (int i = 0; i < 3; i++) {
        double read = gyro.readDps(i, attitude, heat.chipC(), heat.rateCPerS(), s - bootS);
        double start = unit.axes().get(i).gravityDps(startUpG);
        dps[s][i] = read - attitude.earthDps(i) - attitude.rateDps(i) - start;
      }
      heat.step();
      gyro.step();
    }
    return dps;
  }

  private static SimulatedUnit quiet(SimulatedUnit unit) {
    return new SimulatedUnit(
        unit.id(),
        unit.lot(),
        unit.axes().stream().map(TrueBias::quiet).toList(),
        unit.bootDps(),
        new SimulatedUnit.Readout(
            unit.readout().thermometerStepC(),
            unit.readout().thermometerNoiseC(),
            0,
            unit.readout().hasAccelerometer()),
        unit.skewPpm());
  }

  private static Axis quiet(Axis axis) {
    return new Axis(
        axis.coefficients(),
        axis.lagDpsPerCPerS(),
        new double[3],
        axis.settling(),
        new Axis.Noise(0, axis.noise().flickerDegPerH(), axis.noise().walkDpsPerSqrtS()));
  }
}
