package soakbench.drift.still;

import soakbench.model.Bin;
import soakbench.model.Bin.Channel;

/**
 * Detects second by second whether a tracker lies still (zero-velocity detection after Skog,
 * Handel, Nilsson and Rantakokko, IEEE Trans. Biomed. Eng. 57(11), 2010). The bias is unknown and
 * not zero, so the variance about the window's own mean is tested against the unit's own noise
 * floor, never the energy about zero. A slow steady turn looks like bias: a step of the mean that
 * temperature can't explain gives it away, and a change of gravity's direction where there is an
 * accelerometer.
 *
 * <p>Fed one soak's bins in order; not thread-safe. The same bins always give the same answers.
 */
public final class Stillness {
  /** A new level this long without motion is a new pose and not a turn, s. */
  static final int NEW_LEVEL_S = 30;

  private static final int ENDLESS_S = 60;

  private static final double GRAVITY_STEP_G = 0.02;

  /** No small gyro is as noisy as this at rest, deg/s (common practice, no source). */
  private static final double LOUDEST_DPS = 2;

  /** No small gyro reads as much as this at rest, deg/s (common practice, no source). */
  private static final double GREATEST_BIAS_DPS = 60;

  private final NoiseFloor floor = new NoiseFloor();
  private final PooledWindow window = new PooledWindow();
  private final LivingAxes axes = new LivingAxes();
  private final Levels rates = new Levels();
  private final PoseLevel gravity = new PoseLevel();
  private int newLevelS;
  private final int[] turningS = new int[3];

  /** What a second showed. */
  public enum Answer {
    STILL,
    MOVED,
    /** Still, but on a new level: the unit lies otherwise than before. */
    NEW_LEVEL,
    /** Too few readings to see motion. */
    TOO_SLOW,
    /** No rates at all in this second. */
    NO_RATES
  }

  /** Takes the next second. */
  public Answer accept(Bin bin) {
    if (bin.rateCount() == 0) {
      return Answer.NO_RATES;
    }
    window.add(bin);
    if (window.count() < PooledWindow.LEAST_READINGS) {
      return Answer.TOO_SLOW;
    }
    double[] variance = window.variance();
    axes.accept(bin);
    boolean turning = turning(bin);
    if (tooLoud(variance) || turning) {
      newLevelS = 0;
      return Answer.MOVED;
    }
    double spread = floor.ratio(variance, window.count());
    floor.accept(variance, window.count(), bin.gyroStepDps());
    double trust = 1 + 6 * Math.sqrt(2.0 / (3 * (window.count() - 1))) + 0.5;
    if (spread > trust) {
      newLevelS = 0;
      return Answer.MOVED;
    }
    return level(bin);
  }

  /** Shaking that goes on for long must not become its own noise floor. */
  private static boolean tooLoud(double[] variance) {
    return Math.max(variance[0], Math.max(variance[1], variance[2])) > LOUDEST_DPS * LOUDEST_DPS;
  }

  private boolean turning(Bin bin) {
    boolean any = false;
    for (int axis = 0; axis < 3; axis++) {
      boolean fast = Math.abs(bin.gyroDps()[axis].mean()) > GREATEST_BIAS_DPS;
      turningS[axis] = fast ? turningS[axis] + 1 : 0;
      any |= fast;
    }
    return any;
  }

  /**
   * An axis that has turned fast for a minute without a rest, as nothing on a bench does: 0 x, 1 y,
   * 2 z; -1 where none has.
   */
  public int endlessAxis() {
    for (int axis = 0; axis < 3; axis++) {
      if (turningS[axis] >= ENDLESS_S) {
        return axis;
      }
    }
    return -1;
  }

  /**
   * An axis that has read one and the same value for a minute and ever since: 0 x, 1 y, 2 z; -1
   * where none has.
   */
  public int deadAxis() {
    return axes.dead();
  }

  private Answer level(Bin bin) {
    double[] mean = bin.biasDps();
    double[] accel = accel(bin);
    boolean stepped =
        rates.stepped(mean, rateTolerance(bin)) || gravity.left(accel, gravityTolerance(bin));
    if (!stepped) {
      newLevelS = 0;
      rates.add(mean);
      gravity.add(accel);
      return Answer.STILL;
    }
    newLevelS++;
    if (newLevelS < NEW_LEVEL_S) {
      return Answer.MOVED;
    }
    newLevelS = 0;
    rates.restart(mean);
    gravity.restart(accel);
    return Answer.NEW_LEVEL;
  }

  private double[] rateTolerance(Bin bin) {
    double[] sd = floor.sd();
    double[] tolerance = new double[3];
    for (int i = 0; i < 3; i++) {
      // 0.06 deg/s: ten seconds of the fastest warming of a steep unit, and the Earth's rate both
      // ways.
      tolerance[i] = 0.06 + 6 * sd[i] / Math.sqrt(bin.rateCount());
    }
    return tolerance;
  }

  private static double[] gravityTolerance(Bin bin) {
    double[] tolerance = new double[3];
    for (int i = 0; i < 3; i++) {
      Channel c = bin.accelG()[i];
      double sd = Double.isNaN(c.sd()) ? 0 : c.sd();
      tolerance[i] = GRAVITY_STEP_G + 6 * sd / Math.sqrt(Math.max(1, c.count()));
    }
    return tolerance;
  }

  private static double[] accel(Bin bin) {
    return new double[] {bin.accelG()[0].mean(), bin.accelG()[1].mean(), bin.accelG()[2].mean()};
  }

  /**
   * Standard deviation of single readings while still, deg/s, x y z; zero before the first window.
   */
  public double[] noiseSdDps() {
    return floor.sd();
  }
}
