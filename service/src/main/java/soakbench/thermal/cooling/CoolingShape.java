package soakbench.thermal.cooling;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * Reads the shape of one fall: level before, the moment at which the fall began to show, and the
 * drop from there. The moment is told rather too late than too early, so that the time until
 * something has fallen so far comes out rather too short.
 */
final class CoolingShape {
  /** Longest record, s. */
  static final int LONGEST_S = 300;

  /** A shorter record shows too little. */
  static final int SHORTEST_S = 60;

  static final double COARSE_C = 0.2;

  /** Below this a drop is no uncovering, degC. */
  private static final double LEAST_DROP_C = 0.25;

  /** So many deviations below level a second has left it. */
  private static final double LEFT = 3;

  /** Taking the cover off may shake the tracker so long, s. */
  private static final double OPENING_S = 5;

  /** The level stretch ends so long before the fall seems to begin, s. */
  private static final double CLOSE_S = 25;

  private static final int SMOOTH_S = 4;
  private static final int RATE_S = 5;

  private final List<CoolingSecond> seconds;
  private final int noticed;
  private final CoolingSecond lowest;
  private final double blindC;

  CoolingShape(List<CoolingSecond> seconds, int noticed, CoolingSecond lowest, double blindC) {
    this.seconds = List.copyOf(seconds);
    this.noticed = noticed;
    this.lowest = lowest;
    this.blindC = blindC;
  }

  /**
   * @param cut why the fall ended; null where it was followed to the end
   */
  CoolingFinding finding(String cut) {
    if (blindC >= COARSE_C) {
      return none("its thermometer's steps of %.2f degC are too coarse for it", blindC);
    }
    Optional<CoolingLevel> level = level();
    if (level.isEmpty()) {
      return none("it was not heard, lying still, for three minutes before it was uncovered");
    }
    int first = firstBelow(level.get());
    double startS = seconds.get(first).tS() - 0.5;
    int lengthS = (int) Math.min(LONGEST_S, Math.floor(lowest.tS() - startS));
    if (lengthS < SHORTEST_S) {
      return none(
          "it lay open for only %.0f s%s; leave it uncovered and still for five minutes",
          Math.max(1.0, lengthS), cut == null ? "" : ", then " + cut);
    }
    Optional<CoolingSecond> motion =
        seconds.stream()
            .filter(s -> s.moved() && s.tS() > startS + OPENING_S && s.tS() < startS + lengthS)
            .findFirst();
    if (motion.isPresent()) {
      return none("it was moved %.0f s after it was uncovered", motion.get().tS() - startS);
    }
    if (gaps(startS, lengthS)) {
      return none("seconds are missing from the record of its cooling");
    }
    return found(level.get(), startS, lengthS);
  }

  private static CoolingFinding none(String words, Object... values) {
    return CoolingFinding.none(
        "its cooling can't be used: " + String.format(Locale.ROOT, words, values));
  }

  /**
   * Level close before the fall: first from well before it was noticed, then, once it is known
   * about when it began, from up to shortly before that. A late guess takes some of the fall into
   * the line and so makes the drop rather begin too late.
   */
  private Optional<CoolingLevel> level() {
    double farS = seconds.get(noticed).tS() - UncoveringDetector.APART_S;
    return CoolingLevel.until(seconds, blindC, farS)
        .flatMap(
            far ->
                CoolingLevel.until(seconds, blindC, seconds.get(firstBelow(far, 1)).tS() - CLOSE_S)
                    .or(() -> Optional.of(far)));
  }

  /** The earliest second that a mean of one, five or fifteen seconds up to it shows to be below. */
  private int firstBelow(CoolingLevel level) {
    return Math.min(firstBelow(level, 1), Math.min(firstBelow(level, 5), firstBelow(level, 15)));
  }

  /**
   * The first second of those that lie below level without a break until the fall was noticed, by
   * the mean of {@code width} seconds up to each.
   */
  private int firstBelow(CoolingLevel level, int width) {
    int first = noticed;
    while (first >= width && below(level, first - 1, width)) {
      first--;
    }
    return first;
  }

  private boolean below(CoolingLevel level, int last, int width) {
    double sum = 0;
    for (int i = last - width + 1; i <= last; i++) {
      sum += level.at(seconds.get(i).tS()) - seconds.get(i).temperatureC();
    }
    double tS = seconds.get(last).tS();
    return sum / width > LEFT * Math.sqrt(level.sdC() * level.sdC() / width + level.variance(tS));
  }

  /** How far below level each second until {@code untilS} after the start lies. */
  private List<Fallen> fallen(CoolingLevel level, double startS, double untilS) {
    // Had it been uncovered when it no longer warmed, it would have fallen by that much more.
    double rising = Math.max(0, level.slopeCPerS());
    double startC = level.at(startS);
    List<Fallen> all = new ArrayList<>();
    for (CoolingSecond s : seconds) {
      double since = s.tS() - startS;
      if (since > 0 && since < untilS) {
        all.add(new Fallen(since, startC + rising * since - s.temperatureC()));
      }
    }
    return all;
  }

  private boolean gaps(double startS, int lengthS) {
    long heard = seconds.stream().filter(s -> s.tS() > startS && s.tS() < startS + lengthS).count();
    return heard < 0.9 * lengthS;
  }

  private CoolingFinding found(CoolingLevel level, double startS, int lengthS) {
    List<Fallen> all = fallen(level, startS, lengthS + 1);
    double endS = startS + lengthS + 1;
    List<CoolingSecond> used = seconds.stream().filter(s -> s.tS() < endS).toList();
    List<CoolingSecond> after = seconds.stream().filter(s -> s.tS() >= endS).toList();
    double[] drop = new double[lengthS + 1];
    double[] rate = new double[lengthS + 1];
    for (int k = 0; k <= lengthS; k++) {
      drop[k] = k == 0 ? 0 : Math.max(0, Line.near(all, k, Math.min(k, SMOOTH_S)).dropC());
      rate[k] = Line.near(all, k, RATE_S).cPerS();
    }
    if (drop[lengthS] < LEAST_DROP_C) {
      return none("it fell by only %.2f degC", drop[lengthS]);
    }
    double sdC = level.sdC() / Math.sqrt(SMOOTH_S) + blindC / 4;
    double rateSd = level.sdC() * Math.sqrt(12 / Math.pow(2 * RATE_S + 1, 3));
    return new CoolingFinding(
        new Cooling(startS, level.at(startS), drop, rate, sdC, rateSd), used, after, null);
  }

  /** One second: how long since the fall began, s, and how far below level, degC. */
  private record Fallen(double sinceS, double dropC) {}

  /** A straight line at one moment: the drop there, degC, and its slope, degC/s. */
  private record Line(double dropC, double cPerS) {

    /** Through the seconds at most {@code reachS} off. */
    static Line near(List<Fallen> all, double atS, double reachS) {
      double reach = Math.max(1, reachS);
      List<Fallen> near = all.stream().filter(f -> Math.abs(f.sinceS - atS) <= reach).toList();
      double meanS = near.stream().mapToDouble(Fallen::sinceS).average().orElse(atS);
      double mean = near.stream().mapToDouble(Fallen::dropC).average().orElse(0);
      double stt = 0;
      double std = 0;
      for (Fallen f : near) {
        stt += (f.sinceS - meanS) * (f.sinceS - meanS);
        std += (f.sinceS - meanS) * (f.dropC - mean);
      }
      double slope = stt > 0 ? std / stt : 0;
      return new Line(mean + slope * (atS - meanS), slope);
    }
  }
}
