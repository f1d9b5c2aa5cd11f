package soakbench.lines;

/** A measured channel and the range outside of which a value can't be true. */
enum Channel {
  TEMPERATURE(-40, 125, "degC"),
  GX(-4000, 4000, "deg/s"),
  GY(-4000, 4000, "deg/s"),
  GZ(-4000, 4000, "deg/s"),
  AX(-64, 64, "g"),
  AY(-64, 64, "g"),
  AZ(-64, 64, "g");

  private final int low;
  private final int high;
  private final String unit;

  Channel(int low, int high, String unit) {
    this.low = low;
    this.high = high;
    this.unit = unit;
  }

  /** False for NaN as well. */
  boolean allows(double value) {
    return value >= low && value <= high;
  }

  String allowed() {
    return low + " to " + high + " " + unit;
  }

  String unit() {
    return unit;
  }
}
