package soakbench.demo.unit;

import java.util.List;

/** A firmware that corrects its rates, reading by reading. Not for several threads. */
public final class Corrector {
  /** The firmware's own stillness takes this long to be sure, s. */
  private static final double SURE_S = 2;

  /** How long it takes the mean after a motion, s. */
  private static final double ZEROING_S = 5;

  private static final double BOOT_ZEROING_S = 1;

  private final Correction correction;
  private final List<Span> poses;
  private final double gain;
  private final double[] takenOffDps = new double[3];
  private final double[] sumDps = new double[3];
  private int summed;
  private boolean fresh;
  private double zeroFromS = Double.POSITIVE_INFINITY;
  private double zeroToS = Double.POSITIVE_INFINITY;
  private double movedS = Double.NEGATIVE_INFINITY;

  public Corrector(
      Correction correction, SimulatedUnit unit, double rateHz, List<Handling> handlings) {
    this.correction = correction;
    this.poses =
        handlings.stream()
            .filter(h -> h.kind().calibration())
            .flatMap(h -> h.rests().stream())
            .toList();
    this.gain =
        correction.timeConstantS() > 0
            ? 1 - Math.exp(-1 / (rateHz * correction.timeConstantS()))
            : 0;
    if (correction.kind() == Correction.Kind.CONSTANT
        || correction.kind() == Correction.Kind.STORED) {
      for (int i = 0; i < 3; i++) {
        takenOffDps[i] = unit.axes().get(i).coefficients()[0];
      }
    }
  }

  /** It was switched on; what it followed is forgotten. */
  public void boot(double timeS) {
    switch (correction.kind()) {
      case FOLLOWS -> fresh = true;
      case FOLLOWS_FROM_NOTHING -> java.util.Arrays.fill(takenOffDps, 0);
      case AT_BOOT -> zero(timeS, BOOT_ZEROING_S);
      case AFTER_MOTION -> zero(timeS + SURE_S, ZEROING_S);
      case NONE, CONSTANT, STORED -> {}
    }
  }

  private void zero(double fromS, double lengthS) {
    zeroFromS = fromS;
    zeroToS = fromS + lengthS;
    java.util.Arrays.fill(sumDps, 0);
    summed = 0;
  }

  /** Takes off what it takes off; {@code rates} are the measured ones, deg/s, and are changed. */
  public void correct(double[] rates, double timeS, boolean moving) {
    if (moving) {
      movedS = timeS;
      if (correction.kind() == Correction.Kind.AFTER_MOTION) {
        zero(timeS + SURE_S, ZEROING_S);
      }
    }
    if (gain > 0 && timeS - movedS >= SURE_S) {
      follow(rates);
    }
    if (timeS >= zeroFromS) {
      gather(rates, timeS);
    }
    if (correction.kind() == Correction.Kind.STORED && !poses.isEmpty()) {
      store(rates, timeS);
    }
    for (int i = 0; i < 3; i++) {
      rates[i] -= takenOffDps[i];
    }
  }

  private void store(double[] rates, double timeS) {
    if (poses.stream().anyMatch(pose -> pose.holds(timeS))) {
      for (int i = 0; i < 3; i++) {
        sumDps[i] += rates[i];
      }
      summed++;
    } else if (summed > 0 && timeS >= poses.get(poses.size() - 1).toS()) {
      for (int i = 0; i < 3; i++) {
        takenOffDps[i] = sumDps[i] / summed;
      }
      summed = 0;
    }
  }

  private void follow(double[] rates) {
    for (int i = 0; i < 3; i++) {
      takenOffDps[i] += (fresh ? 1 : gain) * (rates[i] - takenOffDps[i]);
    }
    fresh = false;
  }

  private void gather(double[] rates, double timeS) {
    if (timeS < zeroToS) {
      for (int i = 0; i < 3; i++) {
        sumDps[i] += rates[i];
      }
      summed++;
      return;
    }
    for (int i = 0; i < 3 && summed > 0; i++) {
      takenOffDps[i] = sumDps[i] / summed;
    }
    zeroFromS = Double.POSITIVE_INFINITY;
  }
}
