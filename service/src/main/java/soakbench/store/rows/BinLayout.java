package soakbench.store.rows;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.OffsetDateTime;
import soakbench.model.Bin;
import soakbench.model.Bin.Channel;

/** Table {@code bin}. */
public final class BinLayout implements Layout<Bin> {
  public static final BinLayout INSTANCE = new BinLayout();

  private static final int COLUMNS = 28;

  /** First column of the means and of the counts; temperature, then x y z of either sensor. */
  private static final int MEANS = 4;

  private static final int COUNTS = 20;

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

  @Override
  public Bin read(ResultSet rows) throws SQLException {
    return new Bin(
        rows.getString(COLUMNS),
        Math.floorDiv(time(rows, 1), 1_000_000L),
        time(rows, 2),
        time(rows, 3),
        rows.getInt(27),
        channel(rows, 0),
        new Channel[] {channel(rows, 1), channel(rows, 2), channel(rows, 3)},
        new Channel[] {channel(rows, 4), channel(rows, 5), channel(rows, 6)},
        number(rows, 18),
        number(rows, 19));
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

  private static Channel channel(ResultSet rows, int index) throws SQLException {
    return new Channel(
        rows.getInt(COUNTS + index),
        number(rows, MEANS + 2 * index),
        number(rows, MEANS + 2 * index + 1));
  }

  private static long time(ResultSet rows, int column) throws SQLException {
    return SqlTimes.us(rows.getObject(column, OffsetDateTime.class));
  }

  private static double number(ResultSet rows, int column) throws SQLException {
    double value = rows.getDouble(column);
    return rows.wasNull() ? Double.NaN : value;
  }
}
