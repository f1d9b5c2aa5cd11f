package soakbench.lines;

import java.util.Locale;
import java.util.Map;

/**
 * What a source's lines were, at one moment.
 *
 * @param lines all lines but blank ones
 * @param readings lines that gave a reading
 * @param headers CSV header lines
 * @param rejected the other lines by kind; only kinds that occurred
 * @param newestTimeUs time of the newest sample, microseconds since 1970, or {@link
 *     Reading#NO_TIME}
 * @param unbelievedTimes readings whose own time could not be right, so that they got another
 */
public record LineCounts(
    long lines,
    long readings,
    long headers,
    Map<Rejection.Kind, Rejected> rejected,
    long newestTimeUs,
    long unbelievedTimes) {
  /** Of a source that nothing has come from. */
  public static final LineCounts NONE = new LineCounts(0, 0, 0, Map.of(), Reading.NO_TIME, 0);

  public LineCounts {
    rejected = Map.copyOf(rejected);
  }

  /**
   * Lines of one kind.
   *
   * @param count how many
   * @param reason why the newest of them was rejected
   * @param example the newest of them, at most 120 printable characters
   */
  public record Rejected(long count, String reason, String example) {}

  /** How many lines of this kind there were. */
  public long of(Rejection.Kind kind) {
    Rejected of = rejected.get(kind);
    return of == null ? 0 : of.count();
  }

  /** How many lines gave neither a reading nor columns. */
  public long rejectedTotal() {
    return rejected.values().stream().mapToLong(Rejected::count).sum();
  }

  /** Which lines were not used, with the newest of each kind as an example, in words. */
  public String unused() {
    if (lines == 0) {
      return "it is empty";
    }
    StringBuilder text = new StringBuilder();
    text.append(rejectedTotal()).append(" of ").append(lines).append(" lines not used");
    rejected.forEach(
        (kind, its) ->
            text.append("; ")
                .append(its.count())
                .append(" ")
                .append(kind.name().toLowerCase(Locale.ROOT).replace('_', ' '))
                .append(example(its)));
    return text.toString();
  }

  /** The newest one's reason and text; a line found wrong afterwards has only a reason. */
  private static String example(Rejected lines) {
    String text = lines.example().isEmpty() ? "" : ", such as \"" + lines.example() + '"';
    return " (" + lines.reason() + ")" + text;
  }
}
