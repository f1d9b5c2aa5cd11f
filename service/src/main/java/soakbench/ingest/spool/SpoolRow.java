package soakbench.ingest.spool;

import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Types;
import java.util.Optional;
import java.util.zip.CRC32C;
import soakbench.model.Sample;

/**
 * A sample as a row of the spool. SQLite has no checksums of its own, so each row bears one over
 * all its values: a bit that the disk turned over must not become a wrong reading. All values come
 * back equal, but for the sign of a zero.
 */
final class SpoolRow {
  static final String COLUMNS =
      "id, tracker, time_us, temperature_c, temperature_held, gx_dps, gy_dps, gz_dps, ax_g, ay_g,"
          + " az_g, seq, t_ms, crc";

  /** How many columns that is. */
  static final int COUNT = 14;

  static final String PARAMETERS = "?" + ", ?".repeat(COUNT - 1);

  static final String INSERT =
      "INSERT OR IGNORE INTO sample (" + COLUMNS + ") VALUES (" + PARAMETERS + ")";

  private static final int FIXED_BYTES = 8 + 8 + 7 * 4 + 1 + 8 + 8;

  private SpoolRow() {}

  /** Sets the parameters of an INSERT over {@link #COLUMNS}. */
  static void bind(PreparedStatement insert, long id, Sample s) throws SQLException {
    insert.setLong(1, id);
    insert.setString(2, s.tracker());
    insert.setLong(3, s.timeUs());
    real(insert, 4, s.temperatureC());
    insert.setInt(5, s.temperatureHeld() ? 1 : 0);
    real(insert, 6, s.gxDps());
    real(insert, 7, s.gyDps());
    real(insert, 8, s.gzDps());
    real(insert, 9, s.axG());
    real(insert, 10, s.ayG());
    real(insert, 11, s.azG());
    insert.setLong(12, s.seq());
    insert.setLong(13, s.tMs());
    insert.setLong(14, crc(id, s));
  }

  /** The sample of a row over {@link #COLUMNS}; empty where the row is not what was written. */
  static Optional<Spool.Entry> read(ResultSet row) throws SQLException {
    String tracker = row.getString(2);
    if (tracker == null) {
      return Optional.empty();
    }
    long id = row.getLong(1);
    Sample sample =
        new Sample(
            tracker,
            row.getLong(3),
            real(row, 4),
            row.getInt(5) != 0,
            real(row, 6),
            real(row, 7),
            real(row, 8),
            real(row, 9),
            real(row, 10),
            real(row, 11),
            row.getLong(12),
            row.getLong(13));
    boolean whole = crc(id, sample) == row.getLong(14);
    return whole ? Optional.of(new Spool.Entry(id, sample)) : Optional.empty();
  }

  private static void real(PreparedStatement insert, int parameter, float value)
      throws SQLException {
    if (Float.isNaN(value)) {
      insert.setNull(parameter, Types.REAL);
    } else {
      insert.setDouble(parameter, value);
    }
  }

  private static float real(ResultSet row, int column) throws SQLException {
    double value = row.getDouble(column);
    return row.wasNull() ? Float.NaN : (float) value;
  }

  private static long crc(long id, Sample s) {
    byte[] tracker = s.tracker().getBytes(StandardCharsets.UTF_8);
    ByteBuffer bytes = ByteBuffer.allocate(FIXED_BYTES + tracker.length);
    bytes.putLong(id).putLong(s.timeUs()).putLong(s.seq()).putLong(s.tMs());
    bytes.put((byte) (s.temperatureHeld() ? 1 : 0));
    float[] channels = {
      s.temperatureC(), s.gxDps(), s.gyDps(), s.gzDps(), s.axG(), s.ayG(), s.azG()
    };
    for (float channel : channels) {
      // Not the raw bits: all not-a-numbers are one, and SQLite knows no negative zero.
      bytes.putInt(Float.floatToIntBits(channel + 0f));
    }
    bytes.put(tracker);
    CRC32C crc = new CRC32C();
    crc.update(bytes.flip());
    return crc.getValue();
  }
}
