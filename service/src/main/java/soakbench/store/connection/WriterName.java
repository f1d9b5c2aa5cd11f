package soakbench.store.connection;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;

/** The name of a writer in the server's list of connections: host, process and since when. */
final class WriterName {
  private static final String PREFIX = "soakbench-writer";

  private WriterName() {}

  static String ofThis() {
    return String.join(
        " ",
        PREFIX,
        Writer.thisHost(),
        Long.toString(ProcessHandle.current().pid()),
        Long.toString(Instant.now().getEpochSecond()));
  }

  /**
   * @param rows a connection's name, its client's address, and when it was opened
   */
  static Writer read(ResultSet rows) throws SQLException {
    String name = rows.getString(1);
    String[] parts = name == null ? new String[0] : name.split(" ");
    if (parts.length == 4 && parts[0].equals(PREFIX)) {
      Instant since = Instant.ofEpochSecond(Long.parseLong(parts[3]));
      return new Writer(parts[1], Long.parseLong(parts[2]), since);
    }
    String address = rows.getString(2);
    Instant opened =
        rows.getTimestamp(3) == null ? Instant.now() : rows.getTimestamp(3).toInstant();
    return new Writer(address == null ? "an unknown computer" : address, 0, opened);
  }
}
