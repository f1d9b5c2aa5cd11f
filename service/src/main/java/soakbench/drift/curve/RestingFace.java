package soakbench.drift.curve;

import java.util.List;
import soakbench.model.Bin;

/** The face that a tracker lies on, by the direction of gravity. */
public final class RestingFace {
  private static final int SECONDS = 60;

  private RestingFace() {}

  /**
   * Gravity in the newest minute of lying still, g, x y z.
   *
   * @return null where nothing measured it
   */
  public static double[] gravityG(StillSoak soak) {
    List<Bin> measured =
        soak.pieces().isEmpty()
            ? List.of()
            : soak.pieces().get(soak.pieces().size() - 1).stream()
                .filter(bin -> bin.accelG()[0].count() > 0)
                .toList();
    List<Bin> newest = measured.subList(Math.max(0, measured.size() - SECONDS), measured.size());
    double[] meanG = new double[3];
    for (Bin bin : newest) {
      for (int i = 0; i < 3; i++) {
        meanG[i] += bin.accelG()[i].mean() / newest.size();
      }
    }
    return newest.isEmpty() ? null : meanG;
  }
}
