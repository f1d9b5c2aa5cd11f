package soakbench.demo.lines;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.charset.StandardCharsets;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import soakbench.demo.lines.LineStream.Faults;
import soakbench.demo.lines.LineStream.Form;
import soakbench.demo.lines.LineStream.Stamp;
import soakbench.demo.unit.Axis;
import soakbench.demo.unit.SimulatedUnit;

class LineWriterTest {
  private static final LineValues SHOWN = shown();

  private static LineValues shown() {
    LineValues shown = new LineValues();
    shown.timeUs = 1_772_352_000_123_456L;
    shown.arrivalUs = 1_772_352_000_250_000L;
    shown.seq = 12;
    shown.tMs = 60_000;
    shown.temperatureC = 24.31;
    shown.gyroDps[0] = 0.31;
    shown.gyroDps[1] = -0.12;
    shown.gyroDps[2] = 0.05;
    shown.accelG[2] = 1;
    return shown;
  }

  private static SimulatedUnit unit(boolean accelerometer) {
    Axis axis =
        new Axis(new double[4], 0, new double[3], Axis.Settling.NONE, new Axis.Noise(0, 0, 0));
    return new SimulatedUnit(
        "T-0412",
        "lot",
        List.of(axis, axis, axis),
        0,
        new SimulatedUnit.Readout(0, 0, 0, accelerometer),
        0);
  }

  private static String written(Form form, Stamp stamp, boolean accelerometer) {
    LineStream stream = new LineStream(form, stamp, 10, 0, 0, 0, Faults.NONE);
    LineWriter lines = new LineWriter(stream, unit(accelerometer));
    LineBuffer out = new LineBuffer();
    lines.start(out);
    lines.line(out, SHOWN);
    return new String(out.bytes(), 0, out.length(), StandardCharsets.US_ASCII);
  }

  @Test
  void aLineOfJsonSaysAllThatIsShown() {
    assertThat(written(Form.JSON_LINES, Stamp.TIME, true))
        .isEqualTo(
            "{\"id\":\"T-0412\",\"time\":\"2026-03-01T08:00:00.123Z\",\"seq\":12,\"t_ms\":60000,"
                + "\"temp_c\":24.3100,\"gyro_dps\":[0.31000,-0.12000,0.05000],"
                + "\"accel_g\":[0.0000,0.0000,1.0000]}\n");
  }

  @Test
  void whatATrackerDoesNotKnowOrHaveIsNotInItsLine() {
    assertThat(written(Form.JSON_LINES, Stamp.BOOT_ONLY, false))
        .isEqualTo(
            "{\"id\":\"T-0412\",\"seq\":12,\"t_ms\":60000,"
                + "\"temp_c\":24.3100,\"gyro_dps\":[0.31000,-0.12000,0.05000]}\n");
  }

  @Test
  void aRecordingBearsTheArrival() {
    assertThat(written(Form.JSON_LINES, Stamp.ARRIVAL, false))
        .contains("\"arrival\":\"2026-03-01T08:00:00.250Z\"")
        .doesNotContain("\"time\"");
  }

  @Test
  void rowsFollowTheirHeaderFieldByField() {
    assertThat(written(Form.CSV, Stamp.ARRIVAL, true))
        .isEqualTo(
            "id,arrival,seq,t_ms,temp_c,gx_dps,gy_dps,gz_dps,ax_g,ay_g,az_g\n"
                + "T-0412,2026-03-01T08:00:00.250Z,12,60000,24.3100,0.31000,-0.12000,0.05000,"
                + "0.0000,0.0000,1.0000\n");
    assertThat(written(Form.CSV, Stamp.TIME, false))
        .isEqualTo(
            "id,time,seq,t_ms,temp_c,gx_dps,gy_dps,gz_dps\n"
                + "T-0412,2026-03-01T08:00:00.123Z,12,60000,24.3100,0.31000,-0.12000,0.05000\n");
    assertThat(written(Form.CSV, Stamp.BOOT_ONLY, false))
        .startsWith("id,seq,t_ms,temp_c,gx_dps,gy_dps,gz_dps\nT-0412,12,60000,");
  }

  @ParameterizedTest
  @ValueSource(doubles = {0, 0.099, 1000.1, -1, Double.NaN})
  void aRateThatNoTrackerHasIsRefusedWithTheRange(double rateHz) {
    assertThatThrownBy(() -> LineStream.clean(rateHz))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessage("a rate of " + rateHz + " lines a second is outside 0.1 to 1000");
  }

  @ParameterizedTest
  @ValueSource(doubles = {0.1, 1000})
  void theSlowestAndTheFastestAreTaken(double rateHz) {
    assertThat(LineStream.clean(rateHz).rateHz()).isEqualTo(rateHz);
  }
}
