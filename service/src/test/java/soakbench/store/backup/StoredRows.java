package soakbench.store.backup;

import java.sql.Connection;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import soakbench.store.SharedServer;
import soakbench.store.connection.Query;
import soakbench.store.server.DatabaseSettings;

/** All rows of every table of a store, as text, whatever their order. */
final class StoredRows {
  private StoredRows() {}

  static Map<String, List<String>> of(DatabaseSettings settings) throws SQLException {
    try (Connection c = SharedServer.connect(settings)) {
      Map<String, List<String>> rows = new TreeMap<>();
      for (StoredTable table : StoredTable.of(c)) {
        String all = "SELECT t::text FROM %s AS t ORDER BY 1".formatted(table.quoted());
        rows.put(table.name(), Query.list(c, r -> r.getString(1), all));
      }
      return rows;
    }
  }

  static void change(DatabaseSettings settings, String... statements) throws SQLException {
    try (Connection c = SharedServer.connect(settings);
        Statement statement = c.createStatement()) {
      for (String sql : statements) {
        statement.execute(sql);
      }
    }
  }
}
