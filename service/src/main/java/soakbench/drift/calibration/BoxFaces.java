package soakbench.drift.calibration;

import java.util.ArrayList;
import java.util.List;
import soakbench.model.Bin;

/**
 * The different faces that a box was laid on: directions of gravity at right angles to each other,
 * or opposite. A hand that happens to hold still for a second seldom holds at such an angle. Not
 * thread-safe.
 */
final class BoxFaces {
  /** How skew a face may be laid, as a sine. */
  private static final double SKEW = Math.sin(Math.toRadians(15));

  /** A face is held within so much from second to second, g. */
  private static final double SAME_FACE_G = 0.05;

  private final List<double[]> directions = new ArrayList<>();

  /** Whether two seconds are on one face, or nothing measured it. */
  static boolean same(Bin a, Bin b) {
    for (int i = 0; i < 3; i++) {
      if (Math.abs(a.accelG()[i].mean() - b.accelG()[i].mean()) > SAME_FACE_G) {
        return false;
      }
    }
    return true;
  }

  void add(double[] accelG) {
    double[] direction = direction(accelG);
    if (direction != null) {
      directions.add(direction);
    }
  }

  /** Where gravity points; null where something else pulls too. */
  static double[] direction(double[] accelG) {
    double length = Math.sqrt(dot(accelG, accelG));
    return length < 0.8 || length > 1.2
        ? null
        : new double[] {accelG[0] / length, accelG[1] / length, accelG[2] / length};
  }

  /** Whether two directions are of one face. */
  static boolean sameFace(double[] a, double[] b) {
    return dot(a, b) > Math.sqrt(1 - SKEW * SKEW);
  }

  /** The most faces of one box among all that was added. */
  int count() {
    return directions.stream().mapToInt(this::ofTheBoxOf).max().orElse(0);
  }

  private int ofTheBoxOf(double[] first) {
    List<double[]> faces = new ArrayList<>();
    faces.add(first);
    for (double[] d : directions) {
      if (faces.stream().allMatch(f -> otherFace(f, d))) {
        faces.add(d);
      }
    }
    return faces.size();
  }

  /** Whether they are of two faces of one box. */
  static boolean otherFace(double[] a, double[] b) {
    double cosine = dot(a, b);
    return Math.abs(cosine) < SKEW || cosine < -Math.sqrt(1 - SKEW * SKEW);
  }

  private static double dot(double[] a, double[] b) {
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
  }
}
