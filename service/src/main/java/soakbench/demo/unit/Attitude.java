package soakbench.demo.unit;

import java.util.List;

/**
 * How a tracker lies and turns: the directions of up and of the Earth's axis in its own frame, and
 * its rate. Asked in order of time.
 */
public final class Attitude {
  /** The Earth's rate, deg/s. */
  static final double EARTH_DPS = 0.004178;

  /** Where the workshop is: how high the Earth's axis stands over the horizon, deg. */
  private static final double LATITUDE_DEG = 52;

  private static final double SHAKE_DEG = 35;
  private static final double SHAKE_HZ = 0.8;

  private final List<Motion> motions;
  private double[] restUp;
  private double[] restEarth;
  private int next;

  private double[] upG;
  private double[] earthDps;
  private final double[] rateDps = new double[3];
  private boolean moving;

  public Attitude(List<Motion> motions) {
    this.motions = motions;
    double latitude = Math.toRadians(LATITUDE_DEG);
    restUp = new double[] {0, 0, 1};
    restEarth = new double[] {EARTH_DPS * Math.cos(latitude), 0, EARTH_DPS * Math.sin(latitude)};
    upG = restUp;
    earthDps = restEarth;
  }

  public void advanceTo(double timeS) {
    while (next < motions.size() && motions.get(next).toS() <= timeS) {
      Motion done = motions.get(next++);
      double angle = -Math.toRadians(done.angleDeg());
      restUp = turned(restUp, done.axis(), angle);
      restEarth = turned(restEarth, done.axis(), angle);
      upG = restUp;
      earthDps = restEarth;
    }
    moving = next < motions.size() && motions.get(next).holds(timeS);
    if (moving) {
      move(motions.get(next), timeS);
    }
  }

  private void move(Motion motion, double timeS) {
    double[] axis = motion.axis();
    double angle = -Math.toRadians(motion.angleDegAt(timeS));
    upG = turned(restUp, axis, angle);
    earthDps = turned(restEarth, axis, angle);
    double turn = motion.rateDpsAt(timeS);
    for (int i = 0; i < 3; i++) {
      rateDps[i] = turn * axis[i];
    }
    if (motion.kind() == Motion.Kind.BURST) {
      shake(motion, timeS, new double[] {axis[1], axis[2], axis[0]});
    }
  }

  /** An oscillation by the hand about another axis: begins and ends at rest. */
  private void shake(Motion motion, double timeS, double[] axis) {
    double s = timeS - motion.fromS();
    double window = Math.pow(Math.sin(Math.PI * s / motion.lengthS()), 2);
    double windowRate = Math.PI / motion.lengthS() * Math.sin(2 * Math.PI * s / motion.lengthS());
    double w = 2 * Math.PI * SHAKE_HZ;
    double angleDeg = SHAKE_DEG * window * Math.sin(w * s);
    upG = turned(upG, axis, -Math.toRadians(angleDeg));
    double dps = SHAKE_DEG * (windowRate * Math.sin(w * s) + window * w * Math.cos(w * s));
    for (int i = 0; i < 3; i++) {
      rateDps[i] += dps * axis[i];
    }
  }

  public boolean moving() {
    return moving;
  }

  /** Rate of being moved about an axis (0 to 2), deg/s. */
  public double rateDps(int axis) {
    return moving ? rateDps[axis] : 0;
  }

  /** What the Earth's rotation adds on an axis (0 to 2), deg/s. */
  public double earthDps(int axis) {
    return earthDps[axis];
  }

  /** The specific force of rest, g; three entries, not to be changed. */
  public double[] upG() {
    return upG;
  }

  /** Rodrigues' formula. */
  private static double[] turned(double[] v, double[] axis, double angle) {
    double c = Math.cos(angle);
    double s = Math.sin(angle);
    double along = (1 - c) * (axis[0] * v[0] + axis[1] * v[1] + axis[2] * v[2]);
    return new double[] {
      c * v[0] + s * (axis[1] * v[2] - axis[2] * v[1]) + along * axis[0],
      c * v[1] + s * (axis[2] * v[0] - axis[0] * v[2]) + along * axis[1],
      c * v[2] + s * (axis[0] * v[1] - axis[1] * v[0]) + along * axis[2]
    };
  }
}
