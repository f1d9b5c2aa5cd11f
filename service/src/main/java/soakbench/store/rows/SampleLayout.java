package soakbench.store.rows;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.OffsetDateTime;
import soakbench.model.Sample;

/** Table {@code sample}. */
final class SampleLayout implements Layout<Sample> {
  static final SampleLayout INSTANCE = new SampleLayout();

  private static final int COLUMNS = 12;

  private SampleLayout() {}

  @Override
  public String table() {
    return "sample";
  }

  @Override
  public String columns() {
    return "time, seq, t_ms, temperature_c, gx_dps, gy_dps, gz_dps, ax_g, ay_g, az_g,"
        + " temperature_held, tracker";
  }

  /**
   * Channels as {@code real}, whatever name TimescaleDB's tables have for it: they may get it while
   * this program runs, and what it has prepared goes on.
   */
  @Override
  public String readOf(String row) {
    return Layout.super.readOf(row).replaceAll("\\w+_(?:c|dps|g)\\b", "$0::real");
  }

  @Override
  public void write(BinaryCopy copy, Sample s) throws SQLException {
    copy.row(COLUMNS).time(s.timeUs()).counter(s.seq()).counter(s.tMs()).real(s.temperatureC());
    copy.real(s.gxDps()).real(s.gyDps()).real(s.gzDps());
    copy.real(s.axG()).real(s.ayG()).real(s.azG());
    copy.flag(s.temperatureHeld()).text(s.tracker());
  }

  /** Makes a sample of a row of its columns. */
  Sample read(ResultSet rows) throws SQLException {
    return new Sample(
        rows.getString(12),
        SqlTimes.us(rows.getObject(1, OffsetDateTime.class)),
        real(rows, 4),
        rows.getBoolean(11),
        real(rows, 5),
        real(rows, 6),
        real(rows, 7),
        real(rows, 8),
        real(rows, 9),
        real(rows, 10),
        counter(rows, 2),
        counter(rows, 3));
  }

  @Override
  public Key key(Sample sample) {
    return new Key(sample.tracker(), sample.timeUs());
  }

  private static float real(ResultSet rows, int column) throws SQLException {
    float value = rows.getFloat(column);
    return rows.wasNull() ? Float.NaN : value;
  }

  private static long counter(ResultSet rows, int column) throws SQLException {
    long value = rows.getLong(column);
    return rows.wasNull() ? -1 : value;
  }
}
