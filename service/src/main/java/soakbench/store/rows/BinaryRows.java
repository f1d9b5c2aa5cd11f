package soakbench.store.rows;

import java.nio.ByteBuffer;
import java.sql.Connection;
import java.sql.SQLException;
import java.util.function.Consumer;
import org.postgresql.PGConnection;
import org.postgresql.copy.CopyOut;

/**
 * Reads many rows in PostgreSQL's binary COPY form, as {@link BinaryCopy} writes them. As text each
 * number would be printed by the server and parsed here, which costs more than all else. NULL
 * becomes not-a-number.
 */
final class BinaryRows {
  /** Signature, flags and length of the header's extension; the binary form's own manual. */
  private static final int HEADER_BYTES = 19;

  private BinaryRows() {}

  /**
   * The bins of one tracker with {@code fromSecond <= second < toSecond}, by time.
   *
   * @param columns which of the table {@code bin}
   * @param taker gets each row, valid until it returns; its fields are taken off it one by one
   */
  static void ofBins(
      Connection connection,
      String columns,
      String tracker,
      long fromSecond,
      long toSecond,
      Consumer<ByteBuffer> taker)
      throws SQLException {
    PGConnection postgres = connection.unwrap(PGConnection.class);
    String copy =
        ("COPY (SELECT %s FROM bin WHERE tracker = '%s' AND time >= %s AND time < %s"
                + " ORDER BY time) TO STDOUT (FORMAT binary)")
            .formatted(
                columns,
                postgres.escapeLiteral(tracker),
                SqlTimes.expression(fromSecond),
                SqlTimes.expression(toSecond));
    CopyOut out = postgres.getCopyAPI().copyOut(copy);
    try {
      int skip = HEADER_BYTES;
      for (byte[] row = out.readFromCopy(); row != null; row = out.readFromCopy()) {
        ByteBuffer bytes = ByteBuffer.wrap(row, skip, row.length - skip);
        skip = 0;
        if (bytes.hasRemaining() && bytes.getShort() > 0) {
          taker.accept(bytes);
        }
      }
    } finally {
      if (out.isActive()) {
        out.cancelCopy();
      }
    }
  }

  static double number(ByteBuffer row) {
    return row.getInt() == Double.BYTES ? row.getDouble() : Double.NaN;
  }

  /** The four numbers of an {@code lseg}, put where a list goes on. */
  static void four(ByteBuffer row, double[] into, int at) {
    row.getInt();
    for (int i = at; i < at + 4; i++) {
      into[i] = row.getDouble();
    }
  }

  static int integer(ByteBuffer row) {
    row.getInt();
    return row.getInt();
  }

  /** Microseconds since 1970. */
  static long timeUs(ByteBuffer row) {
    row.getInt();
    return SqlTimes.usOf2000(row.getLong());
  }
}
