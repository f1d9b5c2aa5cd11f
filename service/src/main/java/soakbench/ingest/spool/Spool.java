package soakbench.ingest.spool;

import java.util.List;
import soakbench.model.Sample;

/**
 * Keeps samples on disk from when they were read until whoever stores them has acknowledged them.
 * First in, first out; thread-safe.
 *
 * <p>{@link #append}, {@link #oldest} and {@link #settle} wait for the disk and throw {@link
 * SpoolException} where it does not let them; nothing of that call was done then, and it may be
 * made again. {@link #newestUs} and {@link #status} never wait for it.
 */
public interface Spool extends AutoCloseable {

  /**
   * One sample in the spool.
   *
   * @param id rises from sample to sample in the order of appending
   */
  record Entry(long id, Sample sample) {}

  /**
   * A sample that will never be taken.
   *
   * @param reason why, in a sentence of whoever refused it
   */
  record Refused(Entry entry, String reason) {}

  /**
   * Its status.
   *
   * @param waiting samples not acknowledged yet
   * @param refused samples set aside in it because they were refused for good
   * @param damaged samples that were left out since it was opened, as what the disk gave back was
   *     not what was written
   * @param usedBytes how much of the file is in use
   * @param limitBytes from where on nothing is appended any more
   */
  record Status(long waiting, long refused, long damaged, long usedBytes, long limitBytes) {}

  /**
   * Appends samples; when it returns they are on the disk, whatever happens to the program or the
   * power.
   *
   * @throws SpoolException if nothing was appended, as it is full or can't be written
   */
  void append(List<Sample> samples);

  /** The oldest samples, so many at most, in the order of appending. */
  List<Entry> oldest(int most);

  /**
   * Removes all samples up to this one: they are stored elsewhere, but for the refused ones, which
   * are set aside.
   */
  void settle(long upToId, List<Refused> refused);

  /**
   * The time of the newest sample of this tracker that was ever appended, microseconds since 1970;
   * {@link Long#MIN_VALUE} where there was none.
   */
  long newestUs(String tracker);

  /** Its status now, or before the call that waits for the disk. */
  Status status();

  @Override
  void close();
}
