package soakbench.demo.unit;

/**
 * A tracker being moved. Afterwards it lies turned by the angle.
 *
 * @param fromS first movement, seconds since the run's start
 * @param toS at rest again, seconds since the run's start
 * @param kind how it moves
 * @param axis what it is turned about, in its own frame; three entries of unit length
 * @param angleDeg by how much it is turned in the end, deg
 * @param addedC what the hand's warmth (or, negative, the open air) adds to it meanwhile, degC
 */
public record Motion(
    double fromS, double toS, Kind kind, double[] axis, double angleDeg, double addedC) {

  /** How a tracker moves. */
  public enum Kind {
    /** Picked up: quick, shaking. */
    BURST,
    /** Turned slowly and evenly, so that a gyro alone could take it for a bias. */
    TURN
  }

  public Motion {
    axis = axis.clone();
  }

  @Override
  public double[] axis() {
    return axis.clone();
  }

  double lengthS() {
    return toS - fromS;
  }

  boolean holds(double timeS) {
    return timeS >= fromS && timeS < toS;
  }

  /** Fraction of the movement in which its trapezoidal rate rises, and in which it falls. */
  private double rampFraction() {
    return kind == Kind.BURST ? 0.5 : 0.1;
  }

  /** How far it is turned at a moment within the motion, deg. */
  double angleDegAt(double timeS) {
    double x = (timeS - fromS) / lengthS();
    double r = rampFraction();
    double progress;
    if (x < r) {
      progress = x * x / (2 * r);
    } else if (x <= 1 - r) {
      progress = x - r / 2;
    } else {
      progress = 1 - r - (1 - x) * (1 - x) / (2 * r);
    }
    return angleDeg * progress / (1 - r);
  }

  /** The rate of that turn, deg/s. */
  double rateDpsAt(double timeS) {
    double x = (timeS - fromS) / lengthS();
    double r = rampFraction();
    return angleDeg / lengthS() / (1 - r) * Math.min(1, Math.min(x, 1 - x) / r);
  }
}
