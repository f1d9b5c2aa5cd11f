package soakbench.demo.lines;

import java.nio.charset.StandardCharsets;
import soakbench.demo.unit.SimulatedUnit;

/** Writes good lines in the form that a tracker uses. */
public final class LineWriter {
  private static final int TEMPERATURE_DECIMALS = 4;
  private static final int GYRO_DECIMALS = 5;
  private static final int ACCEL_DECIMALS = 4;

  private final LineStream stream;
  private final byte[] id;
  private final boolean accelerometer;
  private final InstantFormatter instants = new InstantFormatter();

  public LineWriter(LineStream stream, SimulatedUnit unit) {
    this.stream = stream;
    this.id = unit.id().getBytes(StandardCharsets.US_ASCII);
    this.accelerometer = unit.readout().hasAccelerometer();
  }

  /** What is printed once after power-on: the header of CSV. */
  public void start(LineBuffer out) {
    if (stream.form() == LineStream.Form.CSV) {
      out.add("id,");
      switch (stream.stamp()) {
        case TIME -> out.add("time,");
        case ARRIVAL -> out.add("arrival,");
        case BOOT_ONLY -> {}
      }
      out.add("seq,t_ms,temp_c,gx_dps,gy_dps,gz_dps");
      out.add(accelerometer ? ",ax_g,ay_g,az_g\n" : "\n");
    }
  }

  public void line(LineBuffer out, LineValues values) {
    if (stream.form() == LineStream.Form.CSV) {
      csv(out, values);
    } else {
      json(out, values);
    }
    out.add('\n');
  }

  private void json(LineBuffer out, LineValues values) {
    out.add("{\"id\":\"").add(id).add('"');
    if (stream.stamp() != LineStream.Stamp.BOOT_ONLY) {
      out.add(stream.stamp() == LineStream.Stamp.TIME ? ",\"time\":\"" : ",\"arrival\":\"");
      instants.add(out, stamp(values));
      out.add('"');
    }
    out.add(",\"seq\":").add(values.seq, 1).add(",\"t_ms\":").add(values.tMs, 1);
    out.add(",\"temp_c\":").add(values.temperatureC, TEMPERATURE_DECIMALS);
    out.add(",\"gyro_dps\":[");
    axes(out, values.gyroDps, GYRO_DECIMALS);
    out.add(']');
    if (accelerometer) {
      out.add(",\"accel_g\":[");
      axes(out, values.accelG, ACCEL_DECIMALS);
      out.add(']');
    }
    out.add('}');
  }

  private void csv(LineBuffer out, LineValues values) {
    out.add(id).add(',');
    if (stream.stamp() != LineStream.Stamp.BOOT_ONLY) {
      instants.add(out, stamp(values));
      out.add(',');
    }
    out.add(values.seq, 1).add(',').add(values.tMs, 1).add(',');
    out.add(values.temperatureC, TEMPERATURE_DECIMALS).add(',');
    axes(out, values.gyroDps, GYRO_DECIMALS);
    if (accelerometer) {
      out.add(',');
      axes(out, values.accelG, ACCEL_DECIMALS);
    }
  }

  private long stamp(LineValues values) {
    return stream.stamp() == LineStream.Stamp.TIME ? values.timeUs : values.arrivalUs;
  }

  private static void axes(LineBuffer out, double[] values, int decimals) {
    out.add(values[0], decimals).add(',').add(values[1], decimals).add(',');
    out.add(values[2], decimals);
  }
}
