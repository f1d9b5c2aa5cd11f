package soakbench.readiness.estimator;

import java.io.Serializable;
import java.util.Arrays;
import java.util.function.Consumer;
import soakbench.model.Bin;

/**
 * Gathers seconds into blocks of ten. A second before and two after motion are left out, because
 * motion starts and ends within a second. Not thread-safe.
 */
final class Blocks implements Serializable {
  /** Length of a block, s. */
  static final double BLOCK_S = 10;

  private static final int GUARD_AFTER_S = 2;
  private static final int LEAST_SECONDS = 4;

  /** Where seconds that are heard lie farther apart, a block of few is whole, s. */
  private static final double SPARSE_S = 2.2;

  /** What is longer is a gap and says nothing of how often it is heard, s. */
  private static final double LONGEST_SPACING_S = 30;

  private static final double SPACING_MEMORY = 10;

  /** So long back the white noise is read, s. */
  private static final int NOISE_S = 1500;

  private static final int LEAST_PAIRS = 5;
  private static final double LEAST_GAP_S = 2;

  private final Thermometer thermometer = new Thermometer();
  private final double[] sumBias = new double[3];
  private final double[] white = new double[3];
  private int pairs;
  private long block = Long.MIN_VALUE;
  private int still;
  private int rates;
  private int guard;
  private boolean moved;
  private boolean booted;
  private int boot;
  private double unheardS;
  private double lastS = Double.NaN;
  private double spacingS = 1;
  private Bin held;
  private boolean heldBelieved;
  private double[] before;

  Thermometer thermometer() {
    return thermometer;
  }

  /**
   * Takes the next second.
   *
   * @param tS its middle, s since the soak began
   * @param motion whether it was seen to move, or couldn't be seen to lie still
   * @param believed whether its temperature is to be believed
   * @param sink given each block once it is over, those without a word too
   */
  void accept(Bin bin, double tS, boolean motion, boolean believed, Consumer<Block> sink) {
    close((long) Math.floor(tS / BLOCK_S), sink);
    double gap = tS - lastS - 1;
    if (gap >= 0 && gap < LONGEST_SPACING_S) {
      spacingS += (gap + 1 - spacingS) / SPACING_MEMORY;
    }
    if (gap >= LEAST_GAP_S) {
      unheardS = Math.max(unheardS, gap);
      takeHeld();
      before = null;
    }
    lastS = tS;
    if (bin.boot() != boot) {
      boot = bin.boot();
      booted = true;
      forget();
    }
    if (motion) {
      held = null;
      before = null;
      guard = GUARD_AFTER_S;
      moved = true;
    } else if (guard > 0) {
      guard--;
    } else {
      takeHeld();
      held = bin;
      heldBelieved = believed;
    }
  }

  /** A bias of before it was off is not the one that settles since. */
  private void forget() {
    clear();
    held = null;
    before = null;
    if (!thermometer.empty()) {
      thermometer.close();
    }
  }

  private void clear() {
    still = 0;
    rates = 0;
    Arrays.fill(sumBias, 0);
  }

  private void takeHeld() {
    if (held == null) {
      return;
    }
    if (heldBelieved && held.temperatureC().count() > 0) {
      thermometer.accept(held.temperatureC(), held.temperatureStepC());
    }
    double[] bias = held.biasDps();
    boolean rated = held.rateCount() > 0;
    held = null;
    still++;
    if (!rated) {
      before = null;
      return;
    }
    rates++;
    for (int i = 0; i < 3; i++) {
      sumBias[i] += bias[i];
    }
    if (before != null) {
      pairs = Math.min(NOISE_S, pairs + 1);
      for (int i = 0; i < 3; i++) {
        double d = bias[i] - before[i];
        white[i] += (d * d / 2 - white[i]) / pairs;
      }
    }
    before = bias;
  }

  /** Closes the open block if another begins, and all between. */
  private void close(long next, Consumer<Block> sink) {
    if (block == Long.MIN_VALUE) {
      block = next;
    }
    while (block < next) {
      sink.accept(closed());
      block++;
    }
  }

  private Block closed() {
    double endS = (block + 1) * BLOCK_S;
    boolean enough = still >= LEAST_SECONDS || still > 0 && !moved && spacingS > SPARSE_S;
    boolean counts = enough && !thermometer.empty();
    double[] mean = new double[3];
    double[] variance = new double[3];
    for (int i = 0; i < 3; i++) {
      mean[i] = sumBias[i] / rates;
      boolean known = rates > 0 && pairs >= LEAST_PAIRS;
      variance[i] = known ? white[i] / rates + 1e-8 : Double.POSITIVE_INFINITY;
    }
    Reading reading = thermometer.empty() ? null : thermometer.close();
    Block out = new Block(endS, counts ? reading : null, mean, variance, unheardS, moved, booted);
    clear();
    moved = false;
    booted = false;
    unheardS = 0;
    return out;
  }
}
