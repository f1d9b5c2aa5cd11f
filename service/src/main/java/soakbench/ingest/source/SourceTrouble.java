package soakbench.ingest.source;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import soakbench.lines.LineCounts;
import soakbench.lines.Reading;
import soakbench.model.Spans;

/**
 * What is wrong with a source, and what to try.
 *
 * @param what in a sentence without a full stop
 * @param toTry what to try, in this order; empty where the sentence says it
 */
public record SourceTrouble(String what, List<String> toTry) {
  /** What to try where a serial port says nothing (common practice, no source). */
  public static final List<String> WHERE_SILENT =
      List.of(
          "another cable: many carry power only",
          "another USB port, straight at the computer, without a hub",
          "the adapter's serial driver: the system may lack it",
          "whether another program holds the port: a serial monitor, an upload tool",
          "permission: be in the group that owns the port, usually dialout, and log in again",
          "one device at a time, so that you see which port comes and goes",
          "asking it to talk: ask: {after_open: [TEXT]} in the rack file, as its maker says");

  private static final List<String> WHERE_UNREAD =
      List.of(
          "the form of its lines: say it in the rack file, or leave it out so that it is found",
          "a pattern of your own: soakbench ports --try PATTERN PORT shows what it takes",
          "the baud rate that its maker names");

  private static final long SILENT_US = 10_000_000;

  public SourceTrouble {
    toTry = List.copyOf(toTry);
  }

  /**
   * What is wrong now.
   *
   * @param nowUs by the clock that dates what is heard, microseconds since 1970
   * @return empty where nothing is, or where the source is a place that nothing is plugged into
   */
  public static Optional<SourceTrouble> of(SourceStatus source, long nowUs) {
    boolean serial = source.kind() == SourceKind.SERIAL;
    if (!source.open()) {
      boolean named = !serial || !source.slot().isEmpty();
      return named ? Optional.of(plain(source.reason(), "it is not open")) : Optional.empty();
    }
    if (!source.reason().isEmpty()) {
      return Optional.of(plain(source.reason(), ""));
    }
    Optional<SourceTrouble> silent = serial ? silent(source, nowUs) : Optional.empty();
    return silent.or(() -> unread(source.heard().counts()));
  }

  private static SourceTrouble plain(String reason, String otherwise) {
    return new SourceTrouble(reason.isEmpty() ? otherwise : reason, List.of());
  }

  private static Optional<SourceTrouble> silent(SourceStatus source, long nowUs) {
    long heardUs = source.heard().newest().atUs();
    if (heardUs == Reading.NO_TIME) {
      return Optional.of(new SourceTrouble("nothing has come of it yet", WHERE_SILENT));
    }
    long quietUs = nowUs - heardUs;
    return quietUs > SILENT_US
        ? Optional.of(
            new SourceTrouble(
                "nothing has come for " + Spans.inMinutes(quietUs / 1e6), WHERE_SILENT))
        : Optional.empty();
  }

  /** More lines that give nothing than readings: boot chatter is less. */
  private static Optional<SourceTrouble> unread(LineCounts counts) {
    if (counts.rejectedTotal() <= counts.readings()) {
      return Optional.empty();
    }
    return counts.rejected().entrySet().stream()
        .max(Map.Entry.comparingByValue((a, b) -> Long.compare(a.count(), b.count())))
        .map(
            most ->
                new SourceTrouble(
                    "%d of %d lines can't be read: %s"
                        .formatted(
                            counts.rejectedTotal(), counts.lines(), most.getValue().reason()),
                    WHERE_UNREAD));
  }
}
