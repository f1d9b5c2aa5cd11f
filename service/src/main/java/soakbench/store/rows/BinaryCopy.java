package soakbench.store.rows;

import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.sql.Connection;
import java.sql.SQLException;
import org.postgresql.PGConnection;
import org.postgresql.copy.CopyIn;

/**
 * Writes rows in PostgreSQL's binary COPY form ("COPY, File Formats, Binary Format" in its manual):
 * nothing is printed and parsed again, so values arrive bit by bit. A not-a-number becomes NULL.
 */
final class BinaryCopy implements AutoCloseable {
  private static final byte[] SIGNATURE = {
    'P', 'G', 'C', 'O', 'P', 'Y', '\n', (byte) 0xFF, '\r', '\n', 0
  };
  private static final int FLUSH_BYTES = 60_000;
  private static final int MAX_FIELD_BYTES = 4_000;
  private static final int NULL_LENGTH = -1;

  private final CopyIn copy;
  private final ByteBuffer buffer = ByteBuffer.allocate(FLUSH_BYTES + MAX_FIELD_BYTES + 64);

  /**
   * @param into table with its columns: {@code sample (time, seq)}
   */
  BinaryCopy(Connection connection, String into) throws SQLException {
    copy =
        connection
            .unwrap(PGConnection.class)
            .getCopyAPI()
            .copyIn("COPY " + into + " FROM STDIN (FORMAT binary)");
    buffer.put(SIGNATURE).putInt(0).putInt(0);
  }

  BinaryCopy row(int fields) {
    buffer.putShort((short) fields);
    return this;
  }

  BinaryCopy time(long timeUs) throws SQLException {
    buffer.putInt(Long.BYTES).putLong(SqlTimes.since2000Us(timeUs));
    return flushIfFull();
  }

  /** A counter that is not sent (-1) becomes NULL. */
  BinaryCopy counter(long value) throws SQLException {
    if (value == -1) {
      return nothing();
    }
    buffer.putInt(Long.BYTES).putLong(value);
    return flushIfFull();
  }

  BinaryCopy integer(int value) throws SQLException {
    buffer.putInt(Integer.BYTES).putInt(value);
    return flushIfFull();
  }

  BinaryCopy real(float value) throws SQLException {
    if (Float.isNaN(value)) {
      return nothing();
    }
    buffer.putInt(Float.BYTES).putFloat(value);
    return flushIfFull();
  }

  BinaryCopy number(double value) throws SQLException {
    if (Double.isNaN(value)) {
      return nothing();
    }
    buffer.putInt(Double.BYTES).putDouble(value);
    return flushIfFull();
  }

  BinaryCopy flag(boolean value) throws SQLException {
    buffer.putInt(1).put((byte) (value ? 1 : 0));
    return flushIfFull();
  }

  /**
   * @throws IllegalArgumentException if it takes more than 4000 bytes
   */
  BinaryCopy text(String value) throws SQLException {
    byte[] bytes = value.getBytes(StandardCharsets.UTF_8);
    if (bytes.length > MAX_FIELD_BYTES - Integer.BYTES) {
      throw new IllegalArgumentException("text of " + bytes.length + " bytes is too long");
    }
    buffer.putInt(bytes.length).put(bytes);
    return flushIfFull();
  }

  /** Ends the copy; only then the rows are there. */
  void end() throws SQLException {
    buffer.putShort((short) -1);
    flush();
    copy.endCopy();
  }

  /** Gives up a copy that was not ended. */
  @Override
  public void close() throws SQLException {
    if (copy.isActive()) {
      copy.cancelCopy();
    }
  }

  private BinaryCopy nothing() throws SQLException {
    buffer.putInt(NULL_LENGTH);
    return flushIfFull();
  }

  private BinaryCopy flushIfFull() throws SQLException {
    if (buffer.position() >= FLUSH_BYTES) {
      flush();
    }
    return this;
  }

  private void flush() throws SQLException {
    copy.writeToCopy(buffer.array(), 0, buffer.position());
    buffer.clear();
  }
}
