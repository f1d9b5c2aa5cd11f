package soakbench.drift.noise;

import java.util.List;
import java.util.Optional;
import soakbench.model.Estimate;
import soakbench.numerics.allan.AllanFit;

/**
 * B of one axis: the flat floor of the Allan deviation over 0.664 (IEEE Std 952), only where it is
 * really flat. Where the deviation is shown to rise again, the floor is the minimum of the fitted
 * curve, as published curves are read (the points scatter, so the least of them is too small).
 * Where it only levels off, what white noise still adds at the end is taken off.
 */
final class FloorReading {
  /** Octaves at which the floor makes most of the variance. */
  private static final int LEAST_POINTS = 2;

  /** From so many on, a factor of four in time, a valley of N and K must only be no likelier. */
  private static final int TELLING_POINTS = 3;

  /** A flat piece of nothing else spans a factor of eight in time at least. */
  private static final int LEAST_FLAT_POINTS = 4;

  /** Gain of twice the log likelihood over a valley of N and K, which has a part more. */
  private static final double FLATTER = 4;

  private FloorReading() {}

  /** Reads it. */
  static Estimate of(AllanCurve curve) {
    return modelled(curve.readings())
        .or(() -> flat(curve.shownReadings()))
        .orElse(Estimate.unknown(NoisePart.UNRESOLVED));
  }

  /** By the model of all points that are read, with K only where they can't do without. */
  private static Optional<Estimate> modelled(List<AllanFit.Reading> readings) {
    AllanFit level = AllanFit.among(readings, AllanFit.WHITE + AllanFit.FLICKER);
    AllanFit all = AllanFit.of(readings);
    boolean turns = NoisePart.shown(all, level);
    AllanFit fit = turns ? all : level;
    if (fit.parts()[1] == 0) {
      return Optional.empty();
    }
    long seen = readings.stream().filter(r -> fit.share(1, r.tauS()) >= NoisePart.MOST).count();
    int walk = turns ? AllanFit.RANDOM_WALK : 0;
    AllanFit without = AllanFit.among(readings, AllanFit.WHITE + walk);
    AllanFit valley = AllanFit.among(readings, AllanFit.WHITE + AllanFit.RANDOM_WALK);
    boolean likelier =
        seen < TELLING_POINTS
            ? NoisePart.shown(fit, valley)
            : valley == null || fit.logLikelihood() >= valley.logLikelihood();
    if (seen < LEAST_POINTS || !NoisePart.shown(fit, without) || !likelier) {
      return Optional.empty();
    }
    return Optional.of(
        turns ? minimum(fit, readings) : NoisePart.estimate(fit, 1, NoisePart.DEG_PER_H));
  }

  private static Estimate minimum(AllanFit fit, List<AllanFit.Reading> readings) {
    double tauS = readings.get(0).tauS();
    for (AllanFit.Reading r : readings) {
      tauS = fit.variance(r.tauS()) < fit.variance(tauS) ? r.tauS() : tauS;
    }
    double unit = AllanFit.FLOOR_SQUARED;
    double variance = fit.varianceOfVariance(tauS) / (unit * unit);
    return NoisePart.root(fit.variance(tauS) / unit, variance, NoisePart.DEG_PER_H);
  }

  /**
   * By the points alone, where the model does not follow them: the piece that a floor alone
   * explains, and a valley of N and K does not as well. Of several the one in which that is
   * clearest. Points beyond those that are read count for as little as they have degrees of
   * freedom.
   */
  private static Optional<Estimate> flat(List<AllanFit.Reading> shown) {
    AllanFit best = null;
    double most = FLATTER;
    for (int from = 0; from < shown.size(); from++) {
      for (int to = from + LEAST_FLAT_POINTS; to <= shown.size(); to++) {
        List<AllanFit.Reading> piece = shown.subList(from, to);
        AllanFit floor = AllanFit.among(piece, AllanFit.FLICKER);
        AllanFit valley = AllanFit.among(piece, AllanFit.WHITE + AllanFit.RANDOM_WALK);
        double gain = 2 * (floor.logLikelihood() - valley.logLikelihood());
        if (gain > most && !NoisePart.shown(AllanFit.of(piece), floor)) {
          most = gain;
          best = floor;
        }
      }
    }
    return Optional.ofNullable(best).map(fit -> NoisePart.estimate(fit, 1, NoisePart.DEG_PER_H));
  }
}
