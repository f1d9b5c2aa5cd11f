package soakbench.drift.still;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;
import soakbench.model.Bin;
import soakbench.model.Bin.Channel;

/**
 * Temperature and its rate at any time of a soak. A fine thermometer is read second by second, or
 * as seldom as a temperature is held; longer between two readings it is not known. One whose steps
 * its noise does not carry it over is known only where it steps: there the temperature lies halfway
 * between two steps, and between two such crossings it is taken to go straight; before the first
 * and after the last it is not known to better than a step, and answered as unknown.
 */
public final class TemperatureCourse {
  private static final double COARSE_C = 0.1;
  private static final double FLAT_SHARE = 0.5;

  /**
   * A coarse thermometer rests on a step; one that is read seldom reads another value each time.
   */
  private static final double LEAST_REPEATS = 0.1;

  /** Less than any step: what sums of equal readings leave. */
  private static final double FLAT_C = 1e-6;

  private static final double LEAST_RATE_WINDOW_S = 30;

  /** Half of what holds three readings of the most seldom thermometer, s. */
  private static final double SELDOM_HALF_S = 48;

  /** For so long a reading holds, s: the 30 that it is held, and one for the seconds' rounding. */
  public static final double HELD_S = 31;

  /** Above this spacing the newest reading is no mean of a block's, s. */
  private static final double SELDOM_S = 5;

  private static final int LEAST_READINGS = 3;

  /** A temperature read or crossed. */
  private record Knot(double tS, double temperatureC) {}

  private final long startS;
  private final List<Knot> knots;
  private final boolean coarse;

  private TemperatureCourse(long startS, List<Knot> knots, boolean coarse) {
    this.startS = startS;
    this.knots = knots;
    this.coarse = coarse;
  }

  /**
   * Goes through the bins of one soak, by time.
   *
   * @param startS second of the soak's first bin
   */
  public static TemperatureCourse of(List<Bin> bins, long startS) {
    List<Knot> seconds = new ArrayList<>();
    List<Knot> flat = new ArrayList<>();
    double stepC = Double.POSITIVE_INFINITY;
    for (Bin bin : bins) {
      Channel c = bin.temperatureC();
      if (c.count() == 0) {
        continue;
      }
      Knot knot = new Knot(bin.second() - startS + 0.5, c.mean());
      seconds.add(knot);
      if (!(c.sd() > FLAT_C)) {
        double before = flat.isEmpty() ? c.mean() : flat.get(flat.size() - 1).temperatureC;
        double moved = Math.abs(c.mean() - before);
        stepC = moved > FLAT_C ? Math.min(stepC, moved) : stepC;
        flat.add(knot);
      }
    }
    boolean known = stepC < Double.POSITIVE_INFINITY;
    boolean resting = repeats(flat) > LEAST_REPEATS * flat.size();
    boolean coarse =
        known && stepC >= COARSE_C && flat.size() >= FLAT_SHARE * seconds.size() && resting;
    return coarse
        ? new TemperatureCourse(startS, crossings(flat), true)
        : new TemperatureCourse(startS, seconds, false);
  }

  /** How often a reading is the one before it. */
  private static long repeats(List<Knot> flat) {
    return IntStream.range(1, flat.size()).filter(i -> level(flat.get(i - 1), flat.get(i))).count();
  }

  private static List<Knot> crossings(List<Knot> flat) {
    List<Knot> out = new ArrayList<>();
    for (int i = 1; i < flat.size(); i++) {
      Knot a = flat.get(i - 1);
      Knot b = flat.get(i);
      if (Math.abs(a.temperatureC - b.temperatureC) > FLAT_C) {
        out.add(new Knot((a.tS + b.tS) / 2, (a.temperatureC + b.temperatureC) / 2));
      }
    }
    return out;
  }

  /** Whether only the crossings of its steps are known. */
  public boolean coarse() {
    return coarse;
  }

  /**
   * Temperature over a stretch.
   *
   * @param temperatureC at its middle, degC; NaN where it is not known
   * @param rateCPerS how fast it changes; NaN likewise
   */
  public record Reading(double temperatureC, double rateCPerS) {
    static final Reading UNKNOWN = new Reading(Double.NaN, Double.NaN);

    public boolean known() {
      return !Double.isNaN(temperatureC);
    }
  }

  /** Usual time between two readings, s: their median; 0 for fewer than two. */
  public double spacingS() {
    double[] spacings =
        IntStream.range(1, knots.size())
            .mapToDouble(i -> knots.get(i).tS - knots.get(i - 1).tS)
            .sorted()
            .toArray();
    return spacings.length == 0 ? 0 : spacings[spacings.length / 2];
  }

  /** Whether means over half a minute must come from here, and not from the newest reading. */
  public boolean seldom() {
    return coarse || spacingS() > SELDOM_S;
  }

  /** Temperature and rate over a stretch. */
  public Reading over(double midS, double widthS) {
    if (coarse) {
      return between(midS);
    }
    double halfS = Math.max(widthS, LEAST_RATE_WINDOW_S) / 2;
    Reading near = fitted(midS, halfS);
    return near.known() || !bridged(midS) ? near : fitted(midS, Math.max(halfS, SELDOM_HALF_S));
  }

  /** Whether the readings about a moment lie no farther apart than one holds. */
  private boolean bridged(double tS) {
    int i = after(tS);
    return i > 0 && i < knots.size() && knots.get(i).tS - knots.get(i - 1).tS <= HELD_S;
  }

  /**
   * Temperature in the middle of a second, straight between two readings, or two crossings of a
   * coarse thermometer's step; before the first and after the last as these. degC; NaN without any.
   *
   * @param second since 1970
   */
  public double atC(long second) {
    double tS = second - startS + 0.5;
    int i = after(tS);
    if (i == 0 || i == knots.size()) {
      return knots.isEmpty() ? Double.NaN : knots.get(i == 0 ? 0 : i - 1).temperatureC;
    }
    Knot a = knots.get(i - 1);
    Knot b = knots.get(i);
    return a.temperatureC + (b.temperatureC - a.temperatureC) * (tS - a.tS) / (b.tS - a.tS);
  }

  private Reading between(double midS) {
    int i = after(midS);
    boolean inside = i > 0 && i < knots.size();
    // Two crossings of one level enclose a peak whose height is hidden in the step.
    if (!inside || level(knots.get(i - 1), knots.get(i))) {
      return Reading.UNKNOWN;
    }
    Knot a = knots.get(i - 1);
    Knot b = knots.get(i);
    double rate = (b.temperatureC - a.temperatureC) / (b.tS - a.tS);
    return new Reading(a.temperatureC + rate * (midS - a.tS), rate);
  }

  private static boolean level(Knot a, Knot b) {
    return Math.abs(a.temperatureC - b.temperatureC) <= FLAT_C;
  }

  /** A straight line by least squares. */
  private Reading fitted(double midS, double halfS) {
    double n = 0;
    double st = 0;
    double sc = 0;
    double stt = 0;
    double stc = 0;
    for (int i = after(midS - halfS); i < knots.size() && knots.get(i).tS <= midS + halfS; i++) {
      double t = knots.get(i).tS - midS;
      double c = knots.get(i).temperatureC;
      n++;
      st += t;
      sc += c;
      stt += t * t;
      stc += t * c;
    }
    double spread = n * stt - st * st;
    if (n < LEAST_READINGS || !(spread > 0)) {
      return Reading.UNKNOWN;
    }
    double rate = (n * stc - st * sc) / spread;
    return new Reading((sc - rate * st) / n, rate);
  }

  /** Index of the first knot at or after a time. */
  private int after(double tS) {
    int low = 0;
    int high = knots.size();
    while (low < high) {
      int mid = (low + high) >>> 1;
      if (knots.get(mid).tS < tS) {
        low = mid + 1;
      } else {
        high = mid;
      }
    }
    return low;
  }
}
