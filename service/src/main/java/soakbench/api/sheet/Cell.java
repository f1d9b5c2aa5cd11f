package soakbench.api.sheet;

import soakbench.api.http.Column;

/**
 * A figure that a cell can have.
 *
 * @param name in the address
 * @param source the table it stands in
 * @param column of that table
 */
record Cell<T>(String name, CellSource<T> source, Column<T> column) {

  /**
   * What is known of a figure.
   *
   * @param value text, a number, a time, a Boolean or a word; null where it is not known
   * @param reason why it is not known; null where nobody says
   */
  record Found(Object value, String reason) {}

  /** The figure of a tracker. */
  Found of(String tracker) {
    return source
        .one()
        .apply(tracker)
        .map(this::found)
        .orElseGet(
            () -> new Found(null, tracker + " has no row in " + source.of().name() + " now"));
  }

  private Found found(T row) {
    Object value = column.of().apply(row);
    return new Found(value, value == null ? column.reason().apply(row) : null);
  }
}
