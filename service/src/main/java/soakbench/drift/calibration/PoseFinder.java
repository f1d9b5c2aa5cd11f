package soakbench.drift.calibration;

import java.util.ArrayList;
import java.util.List;
import soakbench.model.Bin;

/**
 * The still stretches of a handling. Where {@link HandlingDetector} only asks whether a face was
 * shown, here a hand's last touch would pass for bias: a second counts only where it is no louder
 * than the minute after.
 */
final class PoseFinder {
  static final int LEAST_SECONDS = 2;

  /** A second of five readings is louder than this by chance once in three hundred. */
  private static final double LOUD = 2;

  private final double[] sdDps = new double[3];
  private final List<Pose> poses = new ArrayList<>();
  private final List<Bin> open = new ArrayList<>();

  private PoseFinder(List<Bin> still) {
    for (int i = 0; i < 3; i++) {
      int axis = i;
      double square =
          still.stream()
              .map(b -> b.gyroDps()[axis])
              .filter(c -> c.count() >= 2)
              .mapToDouble(c -> c.sd() * c.sd())
              .average()
              .orElse(0);
      sdDps[i] = Math.sqrt(square);
    }
  }

  /**
   * The poses in the boot that the still minute is of: another boot has another bias.
   *
   * @param handled seconds from lifting to lying still
   * @param still the minute after
   */
  static List<Pose> of(List<Bin> handled, List<Bin> still) {
    PoseFinder finder = new PoseFinder(still);
    handled.stream().filter(b -> b.boot() == still.get(0).boot()).forEach(finder::accept);
    finder.close();
    return finder.poses;
  }

  private void accept(Bin bin) {
    Bin last = open.isEmpty() ? null : open.get(open.size() - 1);
    if (!quiet(bin)
        || last != null && (bin.second() != last.second() + 1 || !BoxFaces.same(last, bin))) {
      close();
    }
    if (quiet(bin)) {
      open.add(bin);
    }
  }

  private void close() {
    if (open.size() >= LEAST_SECONDS) {
      poses.add(Pose.of(open));
    }
    open.clear();
  }

  private boolean quiet(Bin bin) {
    boolean quiet = bin.rateCount() >= 2 && bin.accelG()[0].count() > 0;
    for (int i = 0; quiet && i < 3; i++) {
      quiet = bin.gyroDps()[i].sd() <= LOUD * sdDps[i];
    }
    return quiet;
  }
}
