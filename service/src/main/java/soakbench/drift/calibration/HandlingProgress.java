package soakbench.drift.calibration;

import java.util.List;

/**
 * How a handling stands while it goes on.
 *
 * @param sinceSecond when it was lifted, whole seconds since 1970
 * @param asOfSecond up to which second this reaches
 * @param face the number of the face that it lies on now, from 1 in the order in which they were
 *     shown; 0 where it moves, lies askew, or nothing tells
 * @param faces the faces shown so far, by their number; none without an accelerometer
 * @param accelerometer whether it tells on which face it lies
 * @param offAndOn the face shown last each time that it was switched off and on; 0 for none yet
 * @param stillS for how many seconds it has lain still as it does
 * @param temperatureC now, degC; NaN where none was read
 */
public record HandlingProgress(
    long sinceSecond,
    long asOfSecond,
    int face,
    List<Face> faces,
    boolean accelerometer,
    List<Integer> offAndOn,
    int stillS,
    double temperatureC) {

  /** Faces of a box. */
  public static final int FACES = 6;

  /** A face counts where it was still for so many whole seconds. */
  public static final int ENOUGH_S = PoseFinder.LEAST_SECONDS;

  public HandlingProgress {
    faces = List.copyOf(faces);
    offAndOn = List.copyOf(offAndOn);
  }

  /**
   * One face.
   *
   * @param number from 1 in the order in which they were shown
   * @param heldS for how long it was still at the most, s
   * @param times how often it was held for long enough
   * @param up the tracker's own axis that points upwards, {@code +x} to {@code -z}; null where none
   *     does nearly, as the sensor lies askew in its box
   */
  public record Face(int number, int heldS, int times, String up) {
    /** Whether it was held for long enough. */
    public boolean done() {
      return heldS >= ENOUGH_S;
    }
  }

  /** For how long it has been lifted, s. */
  public long openS() {
    return asOfSecond - sinceSecond + 1;
  }
}
