package soakbench.ingest;

import java.util.Set;
import java.util.function.Consumer;
import java.util.function.ToLongFunction;
import soakbench.lines.LineCounters;
import soakbench.lines.LineCounts;
import soakbench.lines.LineReader;
import soakbench.lines.Reading;
import soakbench.model.Sample;

/** From one source's bytes to its samples; the same for a port and for a recording. */
final class SourceReader {
  private final LineCounters counters = new LineCounters();
  private final SampleStamper stamper;
  private final LineReader lines;

  /** For a recording: there was nothing before it. */
  SourceReader(LineSettings settings, Consumer<Sample> samples) {
    this(settings, tracker -> Reading.NO_TIME, samples);
  }

  /**
   * @param newestUs the time of a tracker's newest sample so far, or {@link Reading#NO_TIME}
   */
  SourceReader(LineSettings settings, ToLongFunction<String> newestUs, Consumer<Sample> samples) {
    stamper = new SampleStamper(settings.tracker(), newestUs, counters, samples);
    lines = new LineReader(counters, stamper, settings.pattern());
    if (settings.columns() != null) {
      lines.presetHeader(settings.columns());
    }
  }

  /** Takes bytes that were read at this time. */
  void feed(byte[] bytes, int length, long readUs) {
    stamper.readAt(readUs);
    lines.feed(bytes, 0, length);
  }

  /** Takes bytes of a recording: only its lines can say when they arrived. */
  void feed(byte[] bytes, int length) {
    feed(bytes, length, Reading.NO_TIME);
  }

  void interrupted() {
    lines.interrupted();
  }

  /** For the end of a file: its last line may lack a line end. */
  void endOfFile() {
    lines.end();
    stamper.end();
  }

  /** For the end of a live source: what waits for a next line goes out. */
  void stop() {
    lines.interrupted();
    stamper.end();
  }

  /** How many lines there were, without making a snapshot. */
  long lines() {
    return counters.lines();
  }

  LineCounts counts() {
    return counters.snapshot();
  }

  /** The line form of the newest good line: json, csv or pattern; empty before. */
  String form() {
    return lines.form();
  }

  /** A recent good line, at most 120 printable characters; empty before. */
  String sample() {
    return counters.sample();
  }

  /** How many lines never came, by the trackers' own counters. */
  long lost(long nowUs) {
    return stamper.lost(nowUs);
  }

  Set<String> trackers() {
    return stamper.trackers();
  }
}
