package soakbench.drift.calibration;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import soakbench.drift.calibration.HandlingSeen.Kind;
import soakbench.drift.still.NoiseFloor;
import soakbench.drift.still.PooledWindow;
import soakbench.drift.still.StillMean;
import soakbench.drift.still.Stillness;
import soakbench.model.Bin;
import soakbench.model.Bin.Channel;

/**
 * Sees calibrations in a soak's seconds: off and on within three minutes, motion, then still
 * stretches on four faces of a box or more. Five faces are enough without a reboot, for firmware
 * that needs none: nobody turns a box over that often by chance. Without an accelerometer motion
 * and a reboot make a question. The sequence is common practice, no source.
 *
 * <p>A handling begins with the first moved or missing second after five still ones and ends when
 * it has lain still for half a minute. {@link Stillness} learns a new pose in half a minute, so
 * poses of two seconds are told here: a whole second that is no louder than the unit at rest. Fed
 * one soak's seconds in order; not thread-safe. The same seconds give the same answers.
 */
public final class HandlingDetector {
  /** Off and on within so long before or while it is handled, s. */
  static final int REBOOT_WITHIN_S = 180;

  private static final int FACES_WITH_REBOOT = 4;
  private static final int FACES_WITHOUT_REBOOT = 5;
  private static final int LEAST_REST_S = 5;
  private static final int AT_REST_S = 30;
  private static final int LONGEST_S = 900;

  /** Louder than the noise of rest by so much is a hand, deg/s (common practice, no source). */
  private static final double HAND_DPS = 0.3;

  private static final double GREATEST_BIAS_DPS = 60;

  private final NoiseFloor floor = new NoiseFloor();
  private final StillMean rest = new StillMean();
  private Bin last;
  private int quietS;
  private long bootSecond = Long.MIN_VALUE / 2; // halved: seconds since then must not overflow
  private Handled open;

  /** What is gathered of a handling. */
  private static final class Handled {
    private final long atSecond;
    private final double temperatureC;
    private final double[] biasDps;
    private final int stillS;
    private final BoxFaces faces = new BoxFaces();
    private final FaceLog log = new FaceLog();
    private final List<Integer> offAndOn = new ArrayList<>();
    private boolean gravity;
    private boolean rebooted;
    private boolean moved;
    private double leastC = Double.POSITIVE_INFINITY;
    private double mostC = Double.NEGATIVE_INFINITY;
    private double poseLeastC = Double.POSITIVE_INFINITY;
    private double poseMostC = Double.NEGATIVE_INFINITY;

    private Handled(long atSecond, StillMean rest, boolean rebooted) {
      this.atSecond = atSecond;
      this.temperatureC = rest.temperatureC();
      this.biasDps = rest.biasDps();
      this.stillS = rest.seconds();
      this.rebooted = rebooted;
    }

    private void pose(Bin bin, boolean anew) {
      if (!Double.isNaN(bin.accelG()[0].mean())) {
        gravity = true;
        faces.add(gravityG(bin));
        log.still(gravityG(bin), anew);
      }
      if (bin.temperatureC().count() > 0) {
        poseLeastC = Math.min(poseLeastC, bin.temperatureC().mean());
        poseMostC = Math.max(poseMostC, bin.temperatureC().mean());
      }
    }

    /** The stretch was a pose: something came after it. The last is the rest, not a pose. */
    private void poseEnds() {
      leastC = Math.min(leastC, poseLeastC);
      mostC = Math.max(mostC, poseMostC);
      poseLeastC = Double.POSITIVE_INFINITY;
      poseMostC = Double.NEGATIVE_INFINITY;
    }
  }

  /**
   * Takes the next second.
   *
   * @return what the handling was, in the second in which it has lain still again for half a minute
   */
  public Optional<HandlingSeen> accept(Bin bin) {
    boolean rebooted = last != null && bin.boot() != last.boot();
    bootSecond = rebooted ? bin.second() : bootSecond;
    boolean missing = last != null && bin.second() - last.second() > 2;
    boolean quiet = quiet(bin) && !missing && !rebooted;
    boolean turned = quiet && last != null && quietS > 0 && !BoxFaces.same(last, bin);
    quietS = quiet && !turned ? quietS + 1 : quiet ? 1 : 0;
    boolean begins = open == null && (!quiet || turned) && rest.seconds() >= LEAST_REST_S;
    if (begins) {
      long at = last.second() + 1;
      open = new Handled(at, rest, at - bootSecond <= REBOOT_WITHIN_S && bootSecond <= at);
    }
    if (open != null && (rebooted || begins && open.rebooted)) {
      open.offAndOn.add(open.log.newest());
    }
    if (!quiet || turned) {
      rest.clear();
    }
    if (quiet) {
      rest.add(bin);
    }
    last = bin;
    return open == null ? Optional.empty() : handled(bin, quiet, rebooted || missing);
  }

  private Optional<HandlingSeen> handled(Bin bin, boolean quiet, boolean cut) {
    open.rebooted |= bootSecond >= open.atSecond;
    open.moved |= !quiet && !cut;
    if (quietS <= 1) {
      open.poseEnds();
    }
    if (quiet) {
      open.pose(bin, quietS == 1);
    } else if (cut) {
      open.log.cut();
    } else {
      open.log.moves();
    }
    boolean over = quietS >= AT_REST_S;
    if (!over && bin.second() - open.atSecond < LONGEST_S) {
      return Optional.empty();
    }
    Handled done = open;
    open = null;
    return over ? Optional.of(seen(done, bin.second() - quietS + 1)) : Optional.empty();
  }

  /** Whether a handling goes on, or has not yet lain still for long enough. */
  public boolean handled() {
    return open != null;
  }

  /**
   * How the handling that goes on stands; empty where none does, also where lines are missing and
   * nothing else tells of a hand.
   */
  public Optional<HandlingProgress> progress() {
    return Optional.ofNullable(open)
        .filter(h -> h.moved || h.rebooted || h.log.faces().size() > 1)
        .map(
            h ->
                new HandlingProgress(
                    h.atSecond,
                    last.second(),
                    h.log.now(),
                    h.log.faces(),
                    !Double.isNaN(last.accelG()[0].mean()),
                    h.offAndOn,
                    quietS,
                    last.temperatureC().mean()));
  }

  /** For how many seconds it has lain still on one face. */
  public int stillS() {
    return quietS;
  }

  /**
   * What somebody's word makes of a tracker that was not lifted.
   *
   * @param atSecond when, whole seconds since 1970: the one after the newest taken
   * @return empty where it has not lain still for long enough to tell its bias
   */
  public Optional<HandlingSeen> lying(long atSecond) {
    if (rest.seconds() < LEAST_REST_S) {
      return Optional.empty();
    }
    double temperatureC = rest.temperatureC();
    return Optional.of(
        new HandlingSeen(
            atSecond,
            atSecond,
            Kind.OTHER,
            temperatureC,
            rest.biasDps(),
            rest.seconds(),
            0,
            false,
            0,
            Double.NaN));
  }

  private static HandlingSeen seen(Handled h, long restSecond) {
    int faces = h.gravity ? h.faces.count() : 0;
    boolean sure = faces >= (h.rebooted ? FACES_WITH_REBOOT : FACES_WITHOUT_REBOOT);
    boolean question = !h.gravity && h.rebooted && h.moved;
    return new HandlingSeen(
        h.atSecond,
        restSecond,
        sure ? Kind.CALIBRATION : question ? Kind.QUESTION : Kind.OTHER,
        h.temperatureC,
        h.biasDps,
        h.stillS,
        faces,
        h.rebooted,
        restSecond - h.atSecond,
        h.mostC > h.leastC ? h.mostC - h.leastC : Double.NaN);
  }

  private boolean quiet(Bin bin) {
    if (bin.rateCount() < 2) {
      return false;
    }
    double[] variance = new double[3];
    boolean loud = false;
    double[] sd = floor.sd();
    for (int i = 0; i < 3; i++) {
      Channel c = bin.gyroDps()[i];
      variance[i] = c.sd() * c.sd();
      loud |= Math.abs(c.mean()) > GREATEST_BIAS_DPS || c.sd() > HAND_DPS + 3 * sd[i];
    }
    if (!loud && bin.rateCount() >= PooledWindow.LEAST_READINGS) {
      floor.accept(variance, bin.rateCount(), bin.gyroStepDps());
    }
    return !loud;
  }

  private static double[] gravityG(Bin bin) {
    return new double[] {bin.accelG()[0].mean(), bin.accelG()[1].mean(), bin.accelG()[2].mean()};
  }
}
