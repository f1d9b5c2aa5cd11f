package soakbench.drift.calibration;

import java.util.ArrayList;
import java.util.List;
import soakbench.drift.calibration.HandlingProgress.Face;

/** The faces of one box in the order in which they are shown, with how long each is held. */
final class FaceLog {
  private final List<double[]> directions = new ArrayList<>();
  private final List<Face> faces = new ArrayList<>();
  private int now;
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
    }
    heldS++;
    count();
  }

  /** It moves. */
  void moves() {
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
    faces.add(new Face(directions.size(), 0, 0));
    return directions.size();
  }

  private void count() {
    if (now > 0) {
      Face face = faces.get(now - 1);
      int times = face.times() + (heldS == HandlingProgress.ENOUGH_S ? 1 : 0);
      faces.set(now - 1, new Face(now, Math.max(face.heldS(), heldS), times));
    }
  }

  int now() {
    return now;
  }

  List<Face> faces() {
    return List.copyOf(faces);
  }
}
