package soakbench.drift.calibration;

import java.util.ArrayList;
import java.util.List;
import soakbench.drift.calibration.HandlingProgress.Face;
import soakbench.model.Axes;

/** The faces of one box in the order in which they are shown, with how long each is held. */
final class FaceLog {
  /** Within 37 degrees of an axis, so that no two faces of a box are called by the same one. */
  private static final double ALONG = 0.8;

  private final List<double[]> directions = new ArrayList<>();
  private final List<Face> faces = new ArrayList<>();
  private int now;
  private int newest;
  private int before;
  private int heldS;

  /**
   * One more still second.
   *
   * @param anew whether it does not go on from the second before
   */
  void still(double[] accelG, boolean anew) {
    if (anew) {
      heldS = 0;
      now = numberOf(accelG);
      newest = now > 0 ? now : newest;
    }
    heldS++;
    count();
  }

  /** It moves. */
  void moves() {
    cut();
    before = 0;
  }

  /** Nothing is heard of it, as when it is switched off: it may go on lying on the same face. */
  void cut() {
    before = now > 0 ? now : before;
    now = 0;
    heldS = 0;
  }

  private int numberOf(double[] accelG) {
    double[] direction = BoxFaces.direction(accelG);
    if (direction == null) {
      return 0;
    }
    for (int i = 0; i < directions.size(); i++) {
      if (BoxFaces.sameFace(directions.get(i), direction)) {
        return i + 1;
      }
    }
    if (!directions.stream().allMatch(known -> BoxFaces.otherFace(known, direction))) {
      return 0;
    }
    directions.add(direction);
    faces.add(new Face(directions.size(), 0, 0, up(direction)));
    return directions.size();
  }

  /** The axis along which a resting accelerometer reads most, which is the one that points up. */
  private static String up(double[] direction) {
    for (int i = 0; i < direction.length; i++) {
      if (Math.abs(direction[i]) > ALONG) {
        return (direction[i] > 0 ? "+" : "-") + Axes.NAMES.get(i);
      }
    }
    return null;
  }

  private void count() {
    if (now > 0) {
      Face face = faces.get(now - 1);
      boolean again = heldS == HandlingProgress.ENOUGH_S && !(now == before && face.times() > 0);
      int times = face.times() + (again ? 1 : 0);
      faces.set(now - 1, new Face(now, Math.max(face.heldS(), heldS), times, face.up()));
    }
  }

  int now() {
    return now;
  }

  /** The number of the face that was shown last; 0 before the first. */
  int newest() {
    return newest;
  }

  List<Face> faces() {
    return List.copyOf(faces);
  }
}
