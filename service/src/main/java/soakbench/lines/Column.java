package soakbench.lines;

import java.nio.charset.StandardCharsets;

/** What a line can say, by the names of the CSV header. */
enum Column {
  ID("id"),
  BOOT("boot"),
  TIME("time"),
  ARRIVAL("arrival"),
  SEQ("seq"),
  T_MS("t_ms"),
  TEMP_C("temp_c", Channel.TEMPERATURE, 1),
  GX_DPS("gx_dps", Channel.GX, 1),
  GY_DPS("gy_dps", Channel.GY, 1),
  GZ_DPS("gz_dps", Channel.GZ, 1),
  GX_RADS("gx_rads", Channel.GX, Column.DEG_PER_RAD),
  GY_RADS("gy_rads", Channel.GY, Column.DEG_PER_RAD),
  GZ_RADS("gz_rads", Channel.GZ, Column.DEG_PER_RAD),
  AX_G("ax_g", Channel.AX, 1),
  AY_G("ay_g", Channel.AY, 1),
  AZ_G("az_g", Channel.AZ, 1),
  AX_MS2("ax_ms2", Channel.AX, Column.G_PER_MS2),
  AY_MS2("ay_ms2", Channel.AY, Column.G_PER_MS2),
  AZ_MS2("az_ms2", Channel.AZ, Column.G_PER_MS2);

  static final double DEG_PER_RAD = 180 / Math.PI;

  /** Standard gravity, 9.80665 m/s^2 by definition. */
  static final double G_PER_MS2 = 1 / 9.80665;

  private static final Column[] ALL = values();

  private final byte[] ascii;
  private final Channel channel;
  private final double factor;

  Column(String name) {
    this(name, null, Double.NaN);
  }

  Column(String name, Channel channel, double factor) {
    this.ascii = name.getBytes(StandardCharsets.US_ASCII);
    this.channel = channel;
    this.factor = factor;
  }

  String label() {
    return new String(ascii, StandardCharsets.US_ASCII);
  }

  /** The measured channel that it fills, or null where it isn't measured. */
  Channel channel() {
    return channel;
  }

  /** What a value is multiplied by to get the channel's unit. */
  double factor() {
    return factor;
  }

  boolean isText() {
    return this == ID || this == BOOT || this == TIME || this == ARRIVAL;
  }

  /** The column of this name, or null. Case matters. */
  static Column named(byte[] bytes, int from, int to) {
    for (Column column : ALL) {
      if (column.ascii.length == to - from && column.startsAt(bytes, from)) {
        return column;
      }
    }
    return null;
  }

  private boolean startsAt(byte[] bytes, int from) {
    for (int i = 0; i < ascii.length; i++) {
      if (ascii[i] != bytes[from + i]) {
        return false;
      }
    }
    return true;
  }
}
