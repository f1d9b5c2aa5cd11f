package soakbench.demo.lines;

import java.nio.charset.StandardCharsets;
import soakbench.demo.unit.SimulatedUnit;

/** Writes good lines in the form that a tracker uses. */
public final class LineForm {
  private static final int TEMPERATURE_DECIMALS = 4;
  private static final int GYRO_DECIMALS = 5;
  private static final int ACCEL_DECIMALS = 4;

  private final LineStream stream;
  private final byte[] id;
  private final boolean accelerometer;
  private final Instants instants = new Instants();

  public LineForm(LineStream stream, SimulatedUnit unit) {
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

  public void line(LineBuffer out, Shown shown) {
    if (stream.form() == LineStream.Form.CSV) {
      csv(out, shown);
    } else {
      json(out, shown);
    }
    out.add('\n');
  }

  private void json(LineBuffer out, Shown shown) {
    out.add("{\"id\":\"").add(id).add('"');
    if (stream.stamp() != LineStream.Stamp.BOOT_ONLY) {
      out.add(stream.stamp() == LineStream.Stamp.TIME ? ",\"time\":\"" : ",\"arrival\":\"");
      instants.add(out, stamp(shown));
      out.add('"');
    }
    out.add(",\"seq\":").add(shown.seq, 1).add(",\"t_ms\":").add(shown.tMs, 1);
    out.add(",\"temp_c\":").add(shown.temperatureC, TEMPERATURE_DECIMALS);
    out.add(",\"gyro_dps\":[");
    three(out, shown.gyroDps, GYRO_DECIMALS);
    out.add(']');
    if (accelerometer) {
      out.add(",\"accel_g\":[");
      three(out, shown.accelG, ACCEL_DECIMALS);
      out.add(']');
    }
    out.add('}');
  }

  private void csv(LineBuffer out, Shown shown) {
    out.add(id).add(',');
    if (stream.stamp() != LineStream.Stamp.BOOT_ONLY) {
      instants.add(out, stamp(shown));
      out.add(',');
    }
    out.add(shown.seq, 1).add(',').add(shown.tMs, 1).add(',');
    out.add(shown.temperatureC, TEMPERATURE_DECIMALS).add(',');
    three(out, shown.gyroDps, GYRO_DECIMALS);
    if (accelerometer) {
      out.add(',');
      three(out, shown.accelG, ACCEL_DECIMALS);
    }
  }

  private long stamp(Shown shown) {
    return stream.stamp() == LineStream.Stamp.TIME ? shown.timeUs : shown.arrivalUs;
  }

  private static void three(LineBuffer out, double[] values, int decimals) {
    out.add(values[0], decimals).add(',').add(values[1], decimals).add(',');
    out.add(values[2], decimals);
  }
}
