package soakbench.drift.still;

import java.io.Serializable;
import java.util.List;
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
public final class Stillness implements Serializable {
  /** Gravity along a new direction for this long is a new pose, s. */
  static final int NEW_POSE_S = 30;

  /** Rates on a new level for this long are no turn: nobody turns evenly for a minute, s. */
  static final int NEW_LEVEL_S = 60;

  /** Of a thermometer that has not shown its step yet, degC. */
  private static final double COARSE_C = 0.5;

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
  private double stepC = Double.POSITIVE_INFINITY;
  private double temperatureC = Double.NaN;
  private long turnedSecond = Long.MIN_VALUE;
  private long tiltedSecond = Long.MIN_VALUE;
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
    readThermometer(bin);
    if (window.tooSlow()) {
      return Answer.TOO_SLOW;
    }
    double[] variance = window.variance();
    axes.accept(bin);
    boolean turning = turning(bin);
    if (tooLoud(variance) || turning) {
      return moved();
    }
    floor.sawStep(window.stepDps());
    boolean shaken = floor.exceededBy(variance, window.count(), window.shared());
    floor.accept(variance, window.count(), bin.gyroStepDps());
    return shaken ? moved() : level(bin);
  }

  private Answer moved() {
    turnedSecond = Long.MIN_VALUE;
    tiltedSecond = Long.MIN_VALUE;
    rates.interrupt();
    return Answer.MOVED;
  }

  private void readThermometer(Bin bin) {
    double mean = bin.temperatureC().mean();
    double by = Math.abs(mean - temperatureC);
    if (bin.temperatureStepC() > 0 || by > 0) {
      stepC = Math.min(stepC, bin.temperatureStepC() > 0 ? bin.temperatureStepC() : by);
    }
    temperatureC = Double.isNaN(mean) ? temperatureC : mean;
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

  /** Axes that have read one and the same value for a minute and ever since: 0 x, 1 y, 2 z. */
  public List<Integer> deadAxes() {
    return axes.dead();
  }

  private Answer level(Bin bin) {
    double[] accel = accel(bin);
    Levels.Second now = new Levels.Second(bin.biasDps(), bin.rateCount(), temperatureC);
    boolean turned = rates.left(now, fineness());
    boolean tilted = gravity.left(accel, gravityTolerance(bin));
    turnedSecond = turned ? since(turnedSecond, bin) : Long.MIN_VALUE;
    tiltedSecond = tilted ? since(tiltedSecond, bin) : Long.MIN_VALUE;
    if (!turned && !tilted) {
      gravity.add(accel);
      return Answer.STILL;
    }
    boolean levelIsNew = !turned || bin.second() - turnedSecond >= NEW_LEVEL_S - 1;
    boolean poseIsNew = !tilted || bin.second() - tiltedSecond >= NEW_POSE_S - 1;
    if (!levelIsNew || !poseIsNew) {
      return Answer.MOVED;
    }
    rates.restart();
    gravity.restart(accel);
    turnedSecond = Long.MIN_VALUE;
    tiltedSecond = Long.MIN_VALUE;
    return Answer.NEW_LEVEL;
  }

  private static long since(long second, Bin bin) {
    return second == Long.MIN_VALUE ? bin.second() : second;
  }

  private Levels.Fineness fineness() {
    double step = stepC < Double.POSITIVE_INFINITY ? stepC : COARSE_C;
    return new Levels.Fineness(floor.sd(), floor.stepDps(), step);
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
