package soakbench.drift.noise;

import java.util.List;
import java.util.Optional;
import soakbench.model.Estimate;
import soakbench.numerics.allan.AllanFit;

/**
 * B of one axis: the flat floor of the Allan deviation over 0.664 (IEEE Std 952), only where it is
 * really flat. Where the deviation levels off and no more, what white noise still adds to it is
 * taken off; where it rises again, the floor is the curve's minimum as it is.
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

  /**
   * Reads it.
   *
   * @param rises whether the deviation is shown to rise again with a slope of +1/2
   */
  static Estimate of(AllanCurve curve, boolean rises) {
    return modelled(curve, rises)
        .or(() -> flat(curve.shownReadings()))
        .orElse(Estimate.unknown(NoisePart.UNRESOLVED));
  }

  /** By the model of all points that are read, with K only where its slope is there. */
  private static Optional<Estimate> modelled(AllanCurve curve, boolean rises) {
    List<AllanFit.Reading> readings = curve.readings();
    int walk = rises ? AllanFit.RANDOM_WALK : 0;
    AllanFit fit = AllanFit.among(readings, AllanFit.WHITE + AllanFit.FLICKER + walk);
    if (fit == null || fit.parts()[1] == 0) {
      return Optional.empty();
    }
    long seen = readings.stream().filter(r -> fit.share(1, r.tauS()) >= NoisePart.MOST).count();
    AllanFit without = AllanFit.among(readings, AllanFit.WHITE + walk);
    AllanFit valley = AllanFit.among(readings, AllanFit.WHITE + AllanFit.RANDOM_WALK);
    boolean needed = NoisePart.shown(fit, without);
    boolean likelier =
        seen < TELLING_POINTS
            ? NoisePart.shown(fit, valley)
            : valley == null || fit.logLikelihood() >= valley.logLikelihood();
    if (seen < LEAST_POINTS || !needed || !likelier) {
      return Optional.empty();
    }
    return Optional.of(
        rises ? minimum(fit, readings) : NoisePart.estimate(fit, 1, NoisePart.DEG_PER_H));
  }

  private static Estimate minimum(AllanFit fit, List<AllanFit.Reading> readings) {
    double tauS = readings.get(0).tauS();
    for (AllanFit.Reading r : readings) {
      tauS = fit.variance(r.tauS()) < fit.variance(tauS) ? r.tauS() : tauS;
    }
    double floor = AllanFit.FLOOR_SQUARED;
    double square = fit.variance(tauS) / floor;
    return NoisePart.root(
        square, fit.varianceOfVariance(tauS) / (floor * floor), NoisePart.DEG_PER_H);
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
