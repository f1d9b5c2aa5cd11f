package soakbench.ingest.source;

import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.Consumer;
import soakbench.ingest.identity.IdGate;
import soakbench.ingest.identity.IdOwners;
import soakbench.ingest.identity.IdSource;
import soakbench.ingest.identity.SampleStamper;
import soakbench.ingest.rackfile.LineSettings;
import soakbench.lines.LineCounters;
import soakbench.lines.LineCounts;
import soakbench.lines.LineReader;
import soakbench.lines.Reading;
import soakbench.model.Sample;

/** From one source's bytes to its samples; the same for a port and for a recording. */
public final class SourceReader {
  private final LineCounters counters = new LineCounters();
  private final SampleStamper stamper;
  private final IdGate gate;
  private final LineReader lines;

  /** For a recording: there was nothing before it. */
  public SourceReader(LineSettings settings, Consumer<Sample> samples) {
    this(settings, new IdOwners(tracker -> Reading.NO_TIME, samples), "", id -> {});
  }

  /**
   * @param owners the trackers of all sources; gets the samples
   * @param label what the source is called in messages
   * @param onReboot receives the id of a tracker that has rebooted, on the reading thread
   */
  public SourceReader(
      LineSettings settings, IdOwners owners, String label, Consumer<String> onReboot) {
    IdSource source = new IdSource(label, counters, onReboot);
    stamper = new SampleStamper(settings.tracker(), owners, source);
    gate = new IdGate(stamper, stamper::take, counters);
    lines = new LineReader(counters, gate, settings.pattern());
    if (settings.columns() != null) {
      lines.presetHeader(settings.columns());
    }
  }

  /** Takes bytes that were read at this time. */
  public void feed(byte[] bytes, int length, long readUs) {
    gate.readAt(readUs);
    lines.feed(bytes, 0, length);
  }

  /** Takes bytes of a recording: only its lines can say when they arrived. */
  public void feed(byte[] bytes, int length) {
    feed(bytes, length, Reading.NO_TIME);
  }

  public void interrupted() {
    lines.interrupted();
  }

  /** The port went away: a line that was begun is cut, and its ids may go on elsewhere. */
  public void gone() {
    lines.interrupted();
    stamper.gone(true);
  }

  /** An id that is heard from another source too, in a sentence; empty where there is none. */
  public Optional<String> notice(long nowUs) {
    return stamper.notice(nowUs);
  }

  /** Whether this id's lines are taken from here now, not from another source. */
  public boolean has(String tracker) {
    return stamper.has(tracker);
  }

  /** For the end of a file: its last line may lack a line end. */
  void endOfFile() {
    lines.end();
    stamper.end();
  }

  /** For the end of a live source: what waits for a next line goes out. */
  public void stop() {
    lines.interrupted();
    stamper.end();
  }

  /** How many lines there were, without making a snapshot. */
  public long lines() {
    return counters.lines();
  }

  /** How many lines gave a reading, without making a snapshot. */
  public long readings() {
    return counters.readings();
  }

  public LineCounts counts() {
    return counters.snapshot();
  }

  /** The line form of the newest good line: json, csv or pattern; empty before. */
  public String form() {
    return lines.form();
  }

  /** A recent good line, at most 120 printable characters; empty before. */
  public String sample() {
    return counters.sample();
  }

  /** How many lines never came, by the trackers' own counters. */
  public long lost(long nowUs) {
    return stamper.lost(nowUs);
  }

  /** Ids that were heard once and are not confirmed yet, sorted. */
  public List<String> heardOnce(long nowUs) {
    return stamper.heardOnce(nowUs);
  }

  public Set<String> trackers() {
    return stamper.trackers();
  }
}
