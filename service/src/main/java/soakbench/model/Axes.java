package soakbench.model;

import java.util.List;

/** The three axes of a gyro and an accelerometer, by the names that people and tables give them. */
public final class Axes {
  /** In the order in which all arrays of three hold them. */
  public static final List<String> NAMES = List.of("x", "y", "z");

  private Axes() {}
}
