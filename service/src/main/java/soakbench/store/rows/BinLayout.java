package soakbench.store.rows;

import java.nio.ByteBuffer;
import java.sql.SQLException;
import soakbench.model.Bin;
import soakbench.model.Bin.Channel;

/** Table {@code bin}. */
public final class BinLayout implements Layout<Bin> {
  public static final BinLayout INSTANCE = new BinLayout();

  private static final int COLUMNS = 28;

  /** Temperature, then x y z of either sensor. */
  private static final int CHANNELS = 7;

  private BinLayout() {}

  @Override
  public String table() {
    return "bin";
  }

  @Override
  public String columns() {
    return "time, first_time, last_time, temperature_mean_c, temperature_sd_c,"
        + " gx_mean_dps, gx_sd_dps, gy_mean_dps, gy_sd_dps, gz_mean_dps, gz_sd_dps,"
        + " ax_mean_g, ax_sd_g, ay_mean_g, ay_sd_g, az_mean_g, az_sd_g,"
        + " temperature_step_c, gyro_step_dps, temperature_count,"
        + " gx_count, gy_count, gz_count, ax_count, ay_count, az_count, boot, tracker";
  }

  @Override
  public void write(BinaryCopy copy, Bin bin) throws SQLException {
    Channel[] channels = channels(bin);
    copy.row(COLUMNS).time(bin.second() * 1_000_000).time(bin.firstUs()).time(bin.lastUs());
    for (Channel channel : channels) {
      copy.number(channel.mean()).number(channel.sd());
    }
    copy.number(bin.temperatureStepC()).number(bin.gyroStepDps());
    for (Channel channel : channels) {
      copy.integer(channel.count());
    }
    copy.integer(bin.boot()).text(bin.tracker());
  }

  /** Makes a bin of a row of its columns; its tracker is the one that was asked for. */
  Bin read(ByteBuffer row, String tracker) {
    long second = Math.floorDiv(BinaryRows.timeUs(row), 1_000_000L);
    long firstUs = BinaryRows.timeUs(row);
    long lastUs = BinaryRows.timeUs(row);
    double[] mean = new double[CHANNELS];
    double[] sd = new double[CHANNELS];
    for (int i = 0; i < CHANNELS; i++) {
      mean[i] = BinaryRows.number(row);
      sd[i] = BinaryRows.number(row);
    }
    double temperatureStepC = BinaryRows.number(row);
    double gyroStepDps = BinaryRows.number(row);
    Channel[] c = new Channel[CHANNELS];
    for (int i = 0; i < CHANNELS; i++) {
      c[i] = new Channel(BinaryRows.integer(row), mean[i], sd[i]);
    }
    int boot = BinaryRows.integer(row);
    Channel[] gyro = {c[1], c[2], c[3]};
    Channel[] accel = {c[4], c[5], c[6]};
    return new Bin(
        tracker, second, firstUs, lastUs, boot, c[0], gyro, accel, temperatureStepC, gyroStepDps);
  }

  @Override
  public Key key(Bin bin) {
    return new Key(bin.tracker(), bin.second() * 1_000_000);
  }

  private static Channel[] channels(Bin bin) {
    Channel[] gyro = bin.gyroDps();
    Channel[] accel = bin.accelG();
    return new Channel[] {
      bin.temperatureC(), gyro[0], gyro[1], gyro[2], accel[0], accel[1], accel[2]
    };
  }
}
