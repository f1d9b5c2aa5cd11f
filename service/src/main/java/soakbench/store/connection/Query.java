package soakbench.store.connection;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.regex.Pattern;

/** Plain statements with their values in order. */
public final class Query {
  private static final int FETCH_ROWS = 5_000;

  private static final Pattern CAST = Pattern.compile("::\\w+");

  /** A name of a column, not of a type. */
  private static final Pattern WORD = Pattern.compile("(?<![:\\w])\\w+");

  private Query() {}

  /** Makes a record of the row that the result stands on. */
  @FunctionalInterface
  public interface Row<T> {
    T read(ResultSet rows) throws SQLException;
  }

  public static <T> List<T> list(Connection connection, Row<T> row, String sql, Object... values)
      throws SQLException {
    List<T> found = new ArrayList<>();
    each(connection, row, found::add, sql, values);
    return List.copyOf(found);
  }

  /** The first of the rows; empty where there is none. */
  public static <T> Optional<T> first(
      Connection connection, Row<T> row, String sql, Object... values) throws SQLException {
    return list(connection, row, sql, values).stream().findFirst();
  }

  /**
   * A statement that inserts one row, or replaces what stands under its key.
   *
   * @param key the columns of the key, comma-separated
   * @param others all others; one followed by {@code ::} and a type is cast to it
   */
  public static String upsert(String table, String key, String others) {
    String all = key + ", " + others;
    String columns = CAST.matcher(all).replaceAll("");
    String places = WORD.matcher(all).replaceAll("?");
    String set = WORD.matcher(CAST.matcher(others).replaceAll("")).replaceAll("$0 = EXCLUDED.$0");
    return "INSERT INTO %s (%s) VALUES (%s) ON CONFLICT (%s) DO UPDATE SET %s"
        .formatted(table, columns, places, key, set);
  }

  /** The word that a column has for a constant: its name in lower case; null for null. */
  public static String word(Enum<?> constant) {
    return constant == null ? null : constant.name().toLowerCase(Locale.ROOT);
  }

  /** The constant that a column's word stands for; null for null. */
  public static <E extends Enum<E>> E constant(Class<E> of, String word) {
    return word == null ? null : Enum.valueOf(of, word.toUpperCase(Locale.ROOT));
  }

  /** Hands over row after row; with autocommit off only some thousand are held at a time. */
  public static <T> void each(
      Connection connection, Row<T> row, Consumer<T> taker, String sql, Object... values)
      throws SQLException {
    try (PreparedStatement statement = prepare(connection, sql, values)) {
      statement.setFetchSize(FETCH_ROWS);
      try (ResultSet rows = statement.executeQuery()) {
        while (rows.next()) {
          taker.accept(row.read(rows));
        }
      }
    }
  }

  /** Returns how many rows were changed. */
  public static int change(Connection connection, String sql, Object... values)
      throws SQLException {
    try (PreparedStatement statement = prepare(connection, sql, values)) {
      return statement.executeUpdate();
    }
  }

  /** The same for many rows of values, sent together: the server is waited for once. */
  public static int changeAll(Connection connection, String sql, List<Object[]> rows)
      throws SQLException {
    try (PreparedStatement statement = connection.prepareStatement(sql)) {
      for (Object[] values : rows) {
        set(statement, values);
        statement.addBatch();
      }
      return Arrays.stream(statement.executeBatch()).sum();
    }
  }

  private static void set(PreparedStatement statement, Object... values) throws SQLException {
    for (int i = 0; i < values.length; i++) {
      statement.setObject(i + 1, values[i]);
    }
  }

  private static PreparedStatement prepare(Connection connection, String sql, Object... values)
      throws SQLException {
    PreparedStatement statement = connection.prepareStatement(sql);
    set(statement, values);
    return statement;
  }
}
