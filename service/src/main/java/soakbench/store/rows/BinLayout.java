package soakbench.store.rows;

import java.nio.ByteBuffer;
import java.sql.SQLException;
import java.util.regex.Pattern;
import soakbench.model.Bin;
import soakbench.model.Bin.Channel;

/** Table {@code bin}. */
public final class BinLayout implements Layout<Bin> {
  public static final BinLayout INSTANCE = new BinLayout();

  private static final int COLUMNS = 28;

  /** Temperature, then x y z of either sensor. */
  private static final int CHANNELS = 7;

  private static final String TIMES = "time, first_time, last_time";

  /** Of each channel its mean and deviation, then the two steps. */
  private static final String NUMBERS =
      "temperature_mean_c, temperature_sd_c,"
          + " gx_mean_dps, gx_sd_dps, gy_mean_dps, gy_sd_dps, gz_mean_dps, gz_sd_dps,"
          + " ax_mean_g, ax_sd_g, ay_mean_g, ay_sd_g, az_mean_g, az_sd_g,"
          + " temperature_step_c, gyro_step_dps";

  private static final String COUNTS =
      "temperature_count, gx_count, gy_count, gz_count, ax_count, ay_count, az_count, boot";

  private static final int STEPS = 2 * CHANNELS;
  private static final int FIRST_COUNT = STEPS + 2;
  private static final int BOOT = FIRST_COUNT + CHANNELS;

  private static final Pattern FOUR = Pattern.compile("(\\w+), (\\w+), (\\w+), (\\w+)");

  private BinLayout() {}

  @Override
  public String table() {
    return "bin";
  }

  @Override
  public String columns() {
    return String.join(", ", TIMES, NUMBERS, COUNTS, "tracker");
  }

  /**
   * What to ask the table for so that {@link #read} understands it: four numbers in one value,
   * since each value costs the server the same to hand over, and its length goes over the wire with
   * it. An {@code lseg}, from one point to another, holds four doubles as they are.
   */
  static String readColumns() {
    String numbers = FOUR.matcher(NUMBERS).replaceAll(lseg("coalesce($%d, 'NaN')"));
    return String.join(", ", TIMES, numbers, FOUR.matcher(COUNTS).replaceAll(lseg("$%d")));
  }

  private static String lseg(String number) {
    return "lseg(point(%1$s, %1$s), point(%1$s, %1$s))".formatted(number).formatted(1, 2, 3, 4);
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

  /** Makes a bin of a row of {@link #readColumns}; its tracker is the one that was asked for. */
  static Bin read(ByteBuffer row, String tracker) {
    long second = Math.floorDiv(BinaryRows.timeUs(row), 1_000_000L);
    long firstUs = BinaryRows.timeUs(row);
    long lastUs = BinaryRows.timeUs(row);
    double[] numbers = new double[BOOT + 1];
    for (int i = 0; i < numbers.length; i += 4) {
      BinaryRows.four(row, numbers, i);
    }
    Channel[] c = new Channel[CHANNELS];
    for (int i = 0; i < CHANNELS; i++) {
      c[i] = new Channel((int) numbers[FIRST_COUNT + i], numbers[2 * i], numbers[2 * i + 1]);
    }
    return new Bin(
        tracker,
        second,
        firstUs,
        lastUs,
        (int) numbers[BOOT],
        c[0],
        new Channel[] {c[1], c[2], c[3]},
        new Channel[] {c[4], c[5], c[6]},
        numbers[STEPS],
        numbers[STEPS + 1]);
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
