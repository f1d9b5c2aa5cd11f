package soakbench.store.rows;

import java.nio.ByteBuffer;
import java.sql.Connection;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import soakbench.model.BinSpan;
import soakbench.model.BinSpan.Extent;

/**
 * The bins of one soak as a chart needs them, a column a channel: 76 bytes a second, of which a
 * thousand rows are put together in the time that the database takes to find one. Immutable.
 */
public final class BinColumns {
  private static final String COLUMNS =
      "time, boot, temperature_mean_c, gx_mean_dps, gy_mean_dps, gz_mean_dps, ax_mean_g, ay_mean_g,"
          + " az_mean_g, greatest(gx_sd_dps, gy_sd_dps, gz_sd_dps)";

  /** Temperature, three rates, three of the specific force; then the greatest deviation. */
  private static final int NUMBERS = 8;

  private static final int GYRO = 1;
  private static final int ACCEL = 4;
  private static final int SD = 7;

  private final long[] seconds;
  private final int[] boots;
  private final double[][] numbers;

  private BinColumns(long[] seconds, int[] boots, double[][] numbers) {
    this.seconds = seconds;
    this.boots = boots;
    this.numbers = numbers;
  }

  /** Bins with {@code fromSecond <= second < toSecond}. */
  public static BinColumns read(
      Connection connection, String tracker, long fromSecond, long toSecond) throws SQLException {
    Growing rows = new Growing();
    BinaryRows.ofBins(connection, COLUMNS, tracker, fromSecond, toSecond, rows::add);
    return rows.columns();
  }

  private static final class Growing {
    private int count;
    private long[] seconds = new long[1024];
    private int[] boots = new int[1024];
    private final double[][] numbers = new double[NUMBERS][1024];

    void add(ByteBuffer row) {
      if (count == seconds.length) {
        grow(2 * count);
      }
      seconds[count] = Math.floorDiv(BinaryRows.timeUs(row), 1_000_000L);
      boots[count] = BinaryRows.integer(row);
      for (double[] column : numbers) {
        column[count] = BinaryRows.number(row);
      }
      count++;
    }

    private void grow(int size) {
      seconds = Arrays.copyOf(seconds, size);
      boots = Arrays.copyOf(boots, size);
      Arrays.setAll(numbers, i -> Arrays.copyOf(numbers[i], size));
    }

    BinColumns columns() {
      return new BinColumns(seconds, boots, numbers).part(0, count);
    }
  }

  private BinColumns part(int from, int to) {
    double[][] part = new double[NUMBERS][];
    Arrays.setAll(part, i -> Arrays.copyOfRange(numbers[i], from, to));
    return new BinColumns(
        Arrays.copyOfRange(seconds, from, to), Arrays.copyOfRange(boots, from, to), part);
  }

  /** How many bins there are. */
  public int size() {
    return seconds.length;
  }

  /** The second of the last bin; there must be one. */
  public long lastSecond() {
    return seconds[seconds.length - 1];
  }

  /** These bins up to where others begin, and then those. */
  public BinColumns then(long fromSecond, BinColumns others) {
    BinColumns kept = part(0, indexOf(fromSecond));
    double[][] all = new double[NUMBERS][];
    Arrays.setAll(all, i -> joined(kept.numbers[i], others.numbers[i]));
    long[] times = Arrays.copyOf(kept.seconds, kept.size() + others.size());
    System.arraycopy(others.seconds, 0, times, kept.size(), others.size());
    int[] reboots = Arrays.copyOf(kept.boots, times.length);
    System.arraycopy(others.boots, 0, reboots, kept.size(), others.size());
    return new BinColumns(times, reboots, all);
  }

  private static double[] joined(double[] first, double[] second) {
    double[] all = Arrays.copyOf(first, first.length + second.length);
    System.arraycopy(second, 0, all, first.length, second.length);
    return all;
  }

  private int indexOf(long second) {
    int found = Arrays.binarySearch(seconds, second);
    return found < 0 ? -found - 1 : found;
  }

  /**
   * Bins with {@code fromSecond <= second < toSecond} put together as {@link BinSpans} does.
   *
   * @param most how many rows at most, at least 1
   */
  public List<BinSpan> spans(long fromSecond, long toSecond, int most) {
    int end = indexOf(toSecond);
    int begin = indexOf(fromSecond);
    List<BinSpan> spans = new ArrayList<>();
    if (begin >= end) {
      return spans;
    }
    long firstSecond = seconds[begin];
    long stepS = BinSpans.stepS(firstSecond, seconds[end - 1] + 1, most);
    while (begin < end) {
      long untilSecond = firstSecond + ((seconds[begin] - firstSecond) / stepS + 1) * stepS;
      int next = Math.min(indexOf(untilSecond), end);
      spans.add(span(begin, next));
      begin = next;
    }
    return spans;
  }

  private BinSpan span(int from, int to) {
    return new BinSpan(
        seconds[from],
        seconds[to - 1] + 1,
        to - from,
        Arrays.stream(boots, from, to).max().orElseThrow(),
        extent(0, from, to),
        new Extent[] {
          extent(GYRO, from, to), extent(GYRO + 1, from, to), extent(GYRO + 2, from, to)
        },
        new Extent[] {
          extent(ACCEL, from, to), extent(ACCEL + 1, from, to), extent(ACCEL + 2, from, to)
        },
        extent(SD, from, to).high());
  }

  private Extent extent(int channel, int from, int to) {
    double[] column = numbers[channel];
    double low = Double.POSITIVE_INFINITY;
    double high = Double.NEGATIVE_INFINITY;
    double sum = 0;
    int count = 0;
    for (int i = from; i < to; i++) {
      double value = column[i];
      if (!Double.isNaN(value)) {
        low = Math.min(low, value);
        high = Math.max(high, value);
        sum += value;
        count++;
      }
    }
    return count == 0
        ? new Extent(Double.NaN, Double.NaN, Double.NaN)
        : new Extent(low, Math.max(low, Math.min(high, sum / count)), high);
  }
}
