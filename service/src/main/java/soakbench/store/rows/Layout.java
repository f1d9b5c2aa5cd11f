package soakbench.store.rows;

import java.sql.Connection;
import java.sql.SQLException;
import java.util.List;

/** How rows of one kind, keyed by (tracker, time), lie in their table. */
interface Layout<T> {

  /** The table's name. */
  String table();

  /** Its columns, comma-separated, in the order in which {@link #write} goes. */
  String columns();

  /** The same as they are read of a row that a statement calls so. */
  default String readOf(String row) {
    return columns().replaceAll("\\w+", row + ".$0");
  }

  void write(BinaryCopy copy, T row) throws SQLException;

  Key key(T row);

  /** What tells rows apart. */
  record Key(String tracker, long timeUs) {}

  default String into(String table) {
    return table + " (" + columns() + ")";
  }

  /** Copies rows into the table, or one with the same columns. */
  default void copy(Connection connection, String table, List<T> rows) throws SQLException {
    try (BinaryCopy copy = new BinaryCopy(connection, into(table))) {
      for (T row : rows) {
        write(copy, row);
      }
      copy.end();
    }
  }
}
