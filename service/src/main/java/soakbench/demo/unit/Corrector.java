package soakbench.demo.unit;

import java.util.Arrays;
import java.util.List;

/** A firmware that corrects its rates, reading by reading. Not thread-safe. */
public final class Corrector {
  /** How long it must lie still before the firmware takes it for still, s. */
  private static final double STILL_S = 2;

  /** How long it takes the mean after a motion, s. */
  private static final double ZEROING_S = 5;

  private static final double BOOT_ZEROING_S = 1;

  private final Correction correction;
  private final List<Span> poses;
  private final double gain;
  private final double[] correctionDps = new double[3];
  private final double[] sumDps = new double[3];
  private int count;
  private boolean startsAnew;
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
        correctionDps[i] = unit.axes().get(i).coefficients()[0];
      }
    }
  }

  /** It was switched on; what it followed is forgotten. */
  public void boot(double timeS) {
    switch (correction.kind()) {
      case FOLLOWS -> startsAnew = true;
      case FOLLOWS_FROM_NOTHING -> Arrays.fill(correctionDps, 0);
      case AT_BOOT -> zero(timeS, BOOT_ZEROING_S);
      case AFTER_MOTION -> zero(timeS + STILL_S, ZEROING_S);
      case NONE, CONSTANT, STORED -> {}
    }
  }

  private void zero(double fromS, double lengthS) {
    zeroFromS = fromS;
    zeroToS = fromS + lengthS;
    Arrays.fill(sumDps, 0);
    count = 0;
  }

  /** Subtracts the correction; {@code rates} are the measured ones, deg/s, and are changed. */
  public void correct(double[] rates, double timeS, boolean moving) {
    if (moving) {
      movedS = timeS;
      if (correction.kind() == Correction.Kind.AFTER_MOTION) {
        zero(timeS + STILL_S, ZEROING_S);
      }
    }
    if (gain > 0 && timeS - movedS >= STILL_S) {
      follow(rates);
    }
    if (timeS >= zeroFromS) {
      gather(rates, timeS);
    }
    if (correction.kind() == Correction.Kind.STORED && !poses.isEmpty()) {
      store(rates, timeS);
    }
    for (int i = 0; i < 3; i++) {
      rates[i] -= correctionDps[i];
    }
  }

  private void store(double[] rates, double timeS) {
    if (poses.stream().anyMatch(pose -> pose.holds(timeS))) {
      for (int i = 0; i < 3; i++) {
        sumDps[i] += rates[i];
      }
      count++;
    } else if (count > 0 && timeS >= poses.get(poses.size() - 1).toS()) {
      for (int i = 0; i < 3; i++) {
        correctionDps[i] = sumDps[i] / count;
      }
      count = 0;
    }
  }

  private void follow(double[] rates) {
    for (int i = 0; i < 3; i++) {
      correctionDps[i] += (startsAnew ? 1 : gain) * (rates[i] - correctionDps[i]);
    }
    startsAnew = false;
  }

  private void gather(double[] rates, double timeS) {
    if (timeS < zeroToS) {
      for (int i = 0; i < 3; i++) {
        sumDps[i] += rates[i];
      }
      count++;
      return;
    }
    for (int i = 0; i < 3 && count > 0; i++) {
      correctionDps[i] = sumDps[i] / count;
    }
    zeroFromS = Double.POSITIVE_INFINITY;
  }
}
