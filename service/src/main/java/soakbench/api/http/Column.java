package soakbench.api.http;

import java.util.function.Function;

/**
 * A column of a table.
 *
 * @param time whether its cells are times
 * @param of a row's text, number, {@link java.time.Instant}, Boolean or word there; null where it
 *     is not known
 * @param reason why it is not known; null where nobody says
 */
public record Column<T>(String name, boolean time, Function<T, ?> of, Function<T, String> reason) {

  Column(String name, Function<T, ?> of) {
    this(name, false, of, row -> null);
  }
}
