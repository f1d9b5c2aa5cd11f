package soakbench.thermal;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import soakbench.demo.simulation.Mix;
import soakbench.demo.simulation.Recipe;
import soakbench.demo.simulation.RecipeGenerator;
import soakbench.demo.simulation.SimulateOptions;
import soakbench.demo.simulation.Truth;
import soakbench.demo.unit.Span;
import soakbench.model.Bin;
import soakbench.model.Bin.Channel;

/** Temperature bins of a simulated tracker: the demo's heat, its thermometer's noise and step. */
final class SimulatedThermometer {
  private static final int HZ = 10;
  private static final Channel[] NONE = {Channel.EMPTY, Channel.EMPTY, Channel.EMPTY};

  private final Recipe recipe;
  private final double[] chipC;
  private final SplittableRandom random;
  private final long startSecond;

  private SimulatedThermometer(Recipe recipe) {
    this.recipe = recipe;
    this.chipC = Truth.of(recipe).temperatureC();
    this.random = new SplittableRandom(recipe.run().seed());
    this.startSecond = recipe.startUs() / 1_000_000;
  }

  static Recipe recipe(Mix mix, long seed) {
    return RecipeGenerator.recipe(SimulateOptions.usual(seed).withMix(mix));
  }

  /** Bins of all seconds from {@code fromS} on in which it printed. */
  static List<Bin> bins(Recipe recipe, double fromS) {
    SimulatedThermometer it = new SimulatedThermometer(recipe);
    List<Bin> bins = new ArrayList<>();
    for (int s = 0; s < (int) recipe.durationS() - 1; s++) {
      if (s >= Math.max(fromS, recipe.stream().firstS()) && it.prints(s)) {
        bins.add(it.bin(s));
      }
    }
    return bins;
  }

  private boolean prints(double s) {
    for (List<Span> spans : List.of(recipe.events().gaps(), recipe.events().powerOffs())) {
      for (Span span : spans) {
        if (s + 1 > span.fromS() && s < span.toS()) {
          return false;
        }
      }
    }
    return true;
  }

  private Bin bin(int s) {
    double stepC = recipe.unit().readout().thermometerStepC();
    double[] read = new double[HZ];
    double mean = 0;
    double smallest = Double.NaN;
    for (int i = 0; i < HZ; i++) {
      double part = i / (double) HZ;
      double c = chipC[s] + part * (chipC[s + 1] - chipC[s]);
      c += recipe.unit().readout().thermometerNoiseC() * random.nextGaussian();
      read[i] = stepC > 0 ? Math.rint(c / stepC) * stepC : c;
      mean += read[i] / HZ;
      double d = i == 0 ? 0 : Math.abs(read[i] - read[i - 1]);
      smallest = d > 1e-9 && !(smallest < d) ? d : smallest;
    }
    double square = 0;
    for (double c : read) {
      square += (c - mean) * (c - mean);
    }
    Channel temperature = new Channel(HZ, mean, Math.sqrt(square / (HZ - 1)));
    long second = startSecond + s;
    long us = second * 1_000_000;
    return new Bin(
        recipe.unit().id(),
        second,
        us,
        us + 900_000,
        0,
        temperature,
        NONE,
        NONE,
        smallest,
        Double.NaN);
  }
}
