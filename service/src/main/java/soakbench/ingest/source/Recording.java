package soakbench.ingest.source;

import java.io.BufferedInputStream;
import java.io.EOFException;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;
import java.util.zip.GZIPInputStream;
import java.util.zip.ZipException;
import soakbench.ingest.rackfile.LineSettings;
import soakbench.model.Sample;

/** Reads a recording, JSON Lines or CSV, gzipped or not, the way a port is read. */
public final class Recording {
  private static final int BATCH_SIZE = 5000;
  private static final int BUFFER_SIZE = 1 << 16;
  private static final int GZIP_MAGIC = 0x1f8b;
  private static final long DATED_FROM_US =
      Instant.parse("2001-01-01T00:00:00Z").getEpochSecond() * 1_000_000L;

  private Recording() {}

  /**
   * Reads it piece by piece, so that its length doesn't matter. Lines without a time of their own
   * get one by `arrival`, else by t_ms counted from the beginning of 2000.
   *
   * @param batches gets the samples in the order of their lines, each list its own
   * @throws IOException if the file can't be read to its end; the message names it. What was read
   *     before was passed on.
   */
  public static RecordingSummary read(Path file, Consumer<List<Sample>> batches)
      throws IOException {
    return read(file, LineSettings.NONE, batches);
  }

  /**
   * The same for lines about which something is set.
   *
   * @throws IOException as above
   */
  public static RecordingSummary read(Path file, LineSettings lines, Consumer<List<Sample>> batches)
      throws IOException {
    try (InputStream in = opened(file)) {
      return read(in, file.toString(), lines, batches);
    }
  }

  /**
   * The same of what comes by another way.
   *
   * @param in its bytes, gzipped or not
   * @param name what it is called in messages
   * @throws IOException as above
   */
  public static RecordingSummary read(
      InputStream in, String name, LineSettings lines, Consumer<List<Sample>> batches)
      throws IOException {
    Batches samples = new Batches(batches);
    SourceReader reader = new SourceReader(lines, samples::add);
    try {
      InputStream plain = unpacked(in);
      byte[] buffer = new byte[BUFFER_SIZE];
      for (int length = plain.read(buffer); length >= 0; length = plain.read(buffer)) {
        reader.feed(buffer, length);
      }
    } catch (EOFException | ZipException e) {
      samples.flush();
      String read = samples.count + " samples were read before it";
      throw new IOException(name + " is damaged: its gzip data end early or are wrong; " + read, e);
    }
    reader.endOfFile();
    samples.flush();
    return new RecordingSummary(reader.counts(), samples.count, new ArrayList<>(reader.trackers()));
  }

  /**
   * Whether a sample was dated from the beginning of 2000 because nothing in its recording says
   * when it was taken, or by a clock that was never set.
   */
  public static boolean isUndated(Sample sample) {
    return sample.timeUs() < DATED_FROM_US;
  }

  /**
   * Time of its first sample, microseconds since 1970; {@link Long#MAX_VALUE} where it has none.
   * Reads no further.
   *
   * @throws IOException if it can't be read so far; the message names it
   */
  public static long startUs(Path file, LineSettings lines) throws IOException {
    List<Sample> first = new ArrayList<>();
    SourceReader reader = new SourceReader(lines, first::add);
    try (InputStream in = unpacked(opened(file))) {
      byte[] buffer = new byte[BUFFER_SIZE];
      for (int n = in.read(buffer); n >= 0 && first.isEmpty(); n = in.read(buffer)) {
        reader.feed(buffer, n);
      }
    } catch (EOFException | ZipException e) {
      // Reported when it is judged; what could be read of it may count.
    }
    reader.endOfFile();
    return first.isEmpty() ? Long.MAX_VALUE : first.get(0).timeUs();
  }

  private static InputStream opened(Path file) throws IOException {
    if (Files.isDirectory(file)) {
      throw new IOException(file + " is a folder; name the recordings in it");
    }
    try {
      return Files.newInputStream(file);
    } catch (NoSuchFileException e) {
      throw new IOException(file + " does not exist", e);
    }
  }

  private static InputStream unpacked(InputStream bytes) throws IOException {
    InputStream in = new BufferedInputStream(bytes, BUFFER_SIZE);
    in.mark(2);
    int magic = in.read() << 8 | in.read();
    in.reset();
    return magic == GZIP_MAGIC ? new GZIPInputStream(in, BUFFER_SIZE) : in;
  }

  /** Gathers samples into lists. */
  private static final class Batches {
    private final Consumer<List<Sample>> batches;
    private List<Sample> batch = new ArrayList<>(BATCH_SIZE);
    private long count;

    Batches(Consumer<List<Sample>> batches) {
      this.batches = batches;
    }

    void add(Sample sample) {
      batch.add(sample);
      count++;
      if (batch.size() == BATCH_SIZE) {
        flush();
      }
    }

    void flush() {
      if (!batch.isEmpty()) {
        List<Sample> full = batch;
        batch = new ArrayList<>(BATCH_SIZE);
        batches.accept(full);
      }
    }
  }
}
