package soakbench.lots.compare;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import soakbench.lots.AxisSummary;
import soakbench.lots.MeasuredDays;
import soakbench.lots.TrackerFigures;
import soakbench.model.Estimate;
import soakbench.model.Tracker;

/** Lots of invented units, made unit by unit. */
final class LotFixtures {
  private static final Estimate NONE = Estimate.unknown("not looked at");
  private static final double T = 1.96;

  private final String name;
  private final List<LotUnit> units = new ArrayList<>();
  private final Random random;

  LotFixtures(String name, long seed) {
    this.name = name;
    this.random = new Random(seed);
  }

  /** Units with coefficients of this spread and plateaus about this level, all of one day. */
  LotFixtures units(int count, double tempcoSd, double plateauC, String day) {
    for (int i = 0; i < count; i++) {
      double[] tempco = {gauss(tempcoSd), gauss(tempcoSd), gauss(tempcoSd)};
      unit(tempco, plateauC + gauss(0.1), 0.3 * Math.exp(gauss(0.1)), day);
    }
    return this;
  }

  LotFixtures unit(double[] tempco, double plateauC, double noise, String day) {
    List<AxisSummary> axes = new ArrayList<>();
    for (int i = 0; i < 3; i++) {
      AxisSummary.Bias bias =
          new AxisSummary.Bias(Estimate.of(0.1, 0.01, T), coefficient(tempco[i]), NONE, NONE, null);
      AxisSummary.Noise of = new AxisSummary.Noise(Estimate.of(noise, 0.01, T), NONE, NONE);
      axes.add(new AxisSummary("xyz".substring(i, i + 1), bias, NONE, of));
    }
    String id = name + "-" + units.size();
    TrackerFigures figures =
        new TrackerFigures(
            id,
            new TrackerFigures.Soaks(1, 1, 0, List.of(), null),
            31.0,
            false,
            new TrackerFigures.WarmUp(
                Estimate.of(plateauC, 0.05, T), Estimate.of(800, 400, T), true),
            50.0,
            axes,
            new TrackerFigures.Use(31, NONE, NONE));
    Tracker listed =
        new Tracker(id, id, name, "", "", "", "", Tracker.Power.BATTERY, Tracker.Rates.RAW, 0, "");
    MeasuredDays days = day == null ? null : new MeasuredDays(day, day, day);
    units.add(new LotUnit(listed, figures, null, days));
    return this;
  }

  private static Estimate coefficient(double value) {
    return Double.isNaN(value) ? NONE : Estimate.of(value, 0.001, T);
  }

  private double gauss(double sd) {
    return sd * random.nextGaussian();
  }

  Lot lot() {
    return new Lot(name, units, units.size());
  }
}
