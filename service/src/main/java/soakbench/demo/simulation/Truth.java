package soakbench.demo.simulation;

import java.util.ArrayList;
import java.util.List;
import soakbench.demo.unit.Events;
import soakbench.demo.unit.Span;
import soakbench.demo.unit.ThermalModel;

/**
 * What is true of a run, second by second: what the chip's temperature is, how fast it changes and
 * by how much the bias would move if from then on nobody touched anything (an open cover stays
 * open, a room's heating goes on). Noise is no part of it.
 */
public final class Truth {
  static final int AHEAD_S = 180;
  private static final int AHEAD_STEP_S = 10;
  private static final double READY_SHIFT_DPS = 0.010;
  private static final double HARMFUL_SHIFT_DPS = 0.015;
  private static final double READY_RATE_C_PER_MIN = 0.10;
  private static final double BAND_LOW_C = 28;
  private static final double BAND_HIGH_C = 34;
  private static final double HARMFUL_OUTSIDE_C = 0.3;
  private static final int DWELL_S = 60;
  private static final double HOT_C = 45;
  private static final double HOT_RISE_C_PER_MIN = 5;

  private final Recipe recipe;
  private final double[] temperatureC;
  private final double[] rateCPerMin;
  private final double[] shiftDps;

  private Truth(Recipe recipe) {
    this.recipe = recipe;
    int count = (int) Math.floor(recipe.durationS()) + 1;
    temperatureC = new double[count];
    rateCPerMin = new double[count];
    shiftDps = new double[count];
    ThermalModel thermal = new ThermalModel(recipe.heating(), recipe.events());
    for (int s = 0; s < count; s++) {
      temperatureC[s] = thermal.chipC();
      rateCPerMin[s] = thermal.rateCPerS() * 60;
      shiftDps[s] = shiftDps(thermal);
      thermal.step();
    }
  }

  /** Works out what is true of a run, from its recipe alone. */
  public static Truth of(Recipe recipe) {
    return new Truth(recipe);
  }

  public Recipe recipe() {
    return recipe;
  }

  /** The chip's temperature at each whole second of the run, from 0, degC. */
  public double[] temperatureC() {
    return temperatureC.clone();
  }

  /** How fast it changes at each whole second, degC/min. */
  public double[] rateCPerMin() {
    return rateCPerMin.clone();
  }

  /**
   * The greatest change of any axis' bias within the next 180 s if left alone, at each whole
   * second, deg/s, not negative.
   */
  public double[] shiftDps() {
    return shiftDps.clone();
  }

  /**
   * How long after a second of the run some axis' bias first lies this far from where it was then,
   * with all that happens in the run, s; NaN where it never does.
   */
  public double movedAfterS(int fromS, double limitDps) {
    ThermalModel thermal = new ThermalModel(recipe.heating(), recipe.events());
    double[] from = null;
    double before = 0;
    for (int s = 0; s < temperatureC.length; s++) {
      if (s == fromS) {
        from = biasesDps(thermal, bootS(s));
      } else if (s > fromS) {
        double moved = greatestDifference(from, biasesDps(thermal, bootS(s)));
        if (moved >= limitDps) {
          return s - 1 - fromS + (limitDps - before) / (moved - before);
        }
        before = moved;
      }
      thermal.step();
    }
    return Double.NaN;
  }

  private static double greatestDifference(double[] a, double[] b) {
    double most = 0;
    for (int i = 0; i < 3; i++) {
      most = Math.max(most, Math.abs(b[i] - a[i]));
    }
    return most;
  }

  /** Where the tracker could be calibrated: pairs of first and last second. */
  public List<int[]> readyS() {
    boolean[] ready = new boolean[temperatureC.length];
    int held = 0;
    for (int s = 0; s < ready.length; s++) {
      held = readyConditionsHold(s) ? held + 1 : 0;
      ready[s] = held > DWELL_S;
    }
    return runs(ready);
  }

  /** Where declaring it ready would do harm: pairs of first and last second. */
  public List<int[]> harmfulS() {
    boolean[] harmful = new boolean[temperatureC.length];
    for (int s = 0; s < harmful.length; s++) {
      harmful[s] =
          shiftDps[s] > HARMFUL_SHIFT_DPS
              || temperatureC[s] < BAND_LOW_C - HARMFUL_OUTSIDE_C
              || temperatureC[s] > BAND_HIGH_C + HARMFUL_OUTSIDE_C;
    }
    return runs(harmful);
  }

  /** Where it is hot, or heats too fast: pairs of first and last second. */
  public List<int[]> hotS() {
    boolean[] hot = new boolean[temperatureC.length];
    int first = (int) Math.ceil(recipe.stream().firstS());
    for (int s = 0; s < hot.length; s++) {
      boolean fast = s - 60 >= first && temperatureC[s] - temperatureC[s - 60] > HOT_RISE_C_PER_MIN;
      hot[s] = temperatureC[s] >= HOT_C || fast;
    }
    return runs(hot);
  }

  private boolean readyConditionsHold(int s) {
    return s >= recipe.stream().firstS()
        && temperatureC[s] >= BAND_LOW_C
        && temperatureC[s] <= BAND_HIGH_C
        && Math.abs(rateCPerMin[s]) <= READY_RATE_C_PER_MIN
        && shiftDps[s] <= READY_SHIFT_DPS
        && heardAndStill(s);
  }

  private boolean heardAndStill(int s) {
    Events events = recipe.events();
    return events.motions().stream().noneMatch(m -> touches(m.fromS(), m.toS(), s))
        && events.powerOffs().stream().noneMatch(o -> touches(o.fromS(), o.toS(), s))
        && events.gaps().stream().noneMatch(g -> touches(g.fromS(), g.toS(), s));
  }

  private static boolean touches(double fromS, double toS, int s) {
    return fromS < s + 1 && toS > s;
  }

  private double shiftDps(ThermalModel now) {
    // A power cut to come is somebody's doing: settling goes on from the last boot.
    double bootS = bootS(now.second());
    double[] before = biasesDps(now, bootS);
    double uncoveredDropC = recipe.events().uncoveredDropC(now.second());
    double uncoveredChipDropC = recipe.events().uncoveredChipDropC(now.second());
    ThermalModel later = now.copy();
    double greatest = 0;
    for (int ahead = 1; ahead <= AHEAD_S; ahead++) {
      later.step(uncoveredDropC, uncoveredChipDropC);
      if (ahead % AHEAD_STEP_S == 0) {
        double[] after = biasesDps(later, bootS);
        for (int i = 0; i < 3; i++) {
          greatest = Math.max(greatest, Math.abs(after[i] - before[i]));
        }
      }
    }
    return greatest;
  }

  private double[] biasesDps(ThermalModel at, double bootS) {
    double[] biases = new double[3];
    for (int i = 0; i < 3; i++) {
      biases[i] =
          recipe.unit().axes().get(i).biasDps(at.chipC(), at.rateCPerS(), at.second() - bootS);
    }
    return biases;
  }

  private double bootS(double timeS) {
    double boot = recipe.stream().firstS();
    for (Span off : recipe.events().powerOffs()) {
      if (off.toS() <= timeS) {
        boot = off.toS();
      }
    }
    return Math.min(boot, timeS);
  }

  private static List<int[]> runs(boolean[] holds) {
    List<int[]> runs = new ArrayList<>();
    int from = -1;
    for (int s = 0; s <= holds.length; s++) {
      boolean now = s < holds.length && holds[s];
      if (now && from < 0) {
        from = s;
      } else if (!now && from >= 0) {
        runs.add(new int[] {from, s - 1});
        from = -1;
      }
    }
    return runs;
  }
}
