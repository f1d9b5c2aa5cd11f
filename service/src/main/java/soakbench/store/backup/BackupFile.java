package soakbench.store.backup;

import com.fasterxml.jackson.core.JsonProcessingException;
import java.io.FilterInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.InterruptedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.function.LongConsumer;
import java.util.zip.CRC32;
import java.util.zip.ZipEntry;
import java.util.zip.ZipFile;
import org.flywaydb.core.api.MigrationVersion;
import soakbench.live.StoreException;
import soakbench.store.connection.KnownMigrations;

/**
 * A backup to be read: a zip archive with a manifest and a text for each table. Whatever is wrong
 * with it is found before anything is done with it.
 */
final class BackupFile implements AutoCloseable {
  static final String MANIFEST = "manifest.json";

  private static final byte[] ZIP = "PK\3\4".getBytes(StandardCharsets.US_ASCII);

  private final Path path;
  private final ZipFile zip;
  private final Manifest manifest;

  private BackupFile(Path path, ZipFile zip, Manifest manifest) {
    this.path = path;
    this.zip = zip;
    this.manifest = manifest;
  }

  static String entryOf(String table) {
    return "tables/" + table + ".txt";
  }

  /**
   * @throws StoreException if it is none, is cut short, or a newer program wrote it
   */
  static BackupFile open(Path path) throws IOException {
    ZipFile zip = zip(path);
    try {
      return new BackupFile(path, zip, manifest(path, zip));
    } catch (IOException | RuntimeException e) {
      zip.close();
      throw e;
    }
  }

  private static ZipFile zip(Path path) throws IOException {
    byte[] begin = new byte[ZIP.length];
    try (InputStream in = Files.newInputStream(path)) {
      int length = in.readNBytes(begin, 0, begin.length);
      if (length < begin.length || !Arrays.equals(begin, ZIP)) {
        throw foreign(path, length == 0 ? "it is empty" : "it is no zip archive");
      }
    }
    try {
      return new ZipFile(path.toFile());
    } catch (IOException | IllegalArgumentException e) {
      throw refused(
          "%s is cut short or damaged (%s); copy it again from where it was written, or take another backup"
              .formatted(path, e.getMessage()),
          e);
    }
  }

  private static Manifest manifest(Path path, ZipFile zip) throws IOException {
    ZipEntry entry = entry(path, zip, MANIFEST, MANIFEST);
    if (entry == null) {
      throw foreign(path, "it has no " + MANIFEST);
    }
    byte[] json = bytes(path, zip, entry);
    try {
      int form = Manifest.formOf(json);
      if (form == 0) {
        throw foreign(path, "its " + MANIFEST + " is another program's");
      }
      if (form > Manifest.FORM) {
        throw newer(path, "form " + form, "form " + Manifest.FORM);
      }
      Manifest manifest = Manifest.of(json);
      refuseNewer(path, manifest);
      return manifest;
    } catch (JsonProcessingException e) {
      throw foreign(path, "its " + MANIFEST + " can't be read: " + e.getOriginalMessage());
    }
  }

  private static void refuseNewer(Path path, Manifest manifest) {
    MigrationVersion newest = KnownMigrations.newest();
    if (MigrationVersion.fromVersion(manifest.schema()).isNewerThan(newest)) {
      throw newer(path, "schema " + manifest.schema(), "schema " + newest);
    }
  }

  /** Of the manifest, which no digest covers; the archive's own check sum is compared. */
  private static byte[] bytes(Path path, ZipFile zip, ZipEntry entry) throws IOException {
    try (InputStream in = zip.getInputStream(entry)) {
      byte[] bytes = in.readAllBytes();
      CRC32 sum = new CRC32();
      sum.update(bytes);
      if (sum.getValue() != entry.getCrc()) {
        throw damaged(path, MANIFEST, "its check sum is another", null);
      }
      return bytes;
    } catch (IOException | IllegalArgumentException e) {
      throw damaged(path, MANIFEST, e.getMessage(), e);
    }
  }

  Path path() {
    return path;
  }

  Manifest manifest() {
    return manifest;
  }

  /**
   * Reads all of it and compares it with what was written down when it was made.
   *
   * @param read receives how many bytes more were read
   * @throws StoreException if something is missing or other than it was
   */
  void check(LongConsumer read) throws IOException {
    byte[] block = new byte[1 << 16];
    for (Manifest.Content content : manifest.tables()) {
      try (Text text = text(content, read)) {
        while (text.read(block, 0, block.length) >= 0) {
          // Counts by itself.
        }
        text.check();
      }
    }
  }

  /**
   * A table's text.
   *
   * @param read receives how many bytes more were read
   * @throws StoreException if it is missing
   */
  Text text(Manifest.Content content, LongConsumer read) throws IOException {
    String what = "table " + content.table();
    ZipEntry entry = entry(path, zip, entryOf(content.table()), what);
    if (entry == null) {
      throw damaged(path, what, "it is missing", null);
    }
    try {
      return new Text(zip.getInputStream(entry), content, read);
    } catch (IOException | IllegalArgumentException e) {
      throw damaged(path, what, e.getMessage(), e);
    }
  }

  /** Null where there is none; its names and notes are read only now, and may be no text. */
  private static ZipEntry entry(Path path, ZipFile zip, String name, String what) {
    try {
      return zip.getEntry(name);
    } catch (IllegalArgumentException e) {
      throw damaged(path, what, e.getMessage(), e);
    }
  }

  /** A table's text, which is checked when it was read to its end. */
  final class Text extends FilterInputStream {
    private final Manifest.Content content;
    private final LongConsumer read;
    private final CountedDigest digest = new CountedDigest();

    private Text(InputStream in, Manifest.Content content, LongConsumer read) {
      super(in);
      this.content = content;
      this.read = read;
    }

    @Override
    public int read() throws IOException {
      byte[] one = new byte[1];
      return read(one, 0, 1) < 0 ? -1 : one[0] & 0xFF;
    }

    @Override
    public int read(byte[] block, int offset, int length) throws IOException {
      if (Thread.currentThread().isInterrupted()) {
        throw new InterruptedIOException("reading " + path + " was interrupted");
      }
      int count;
      try {
        count = in.read(block, offset, length);
      } catch (IOException e) {
        throw damaged(path, "table " + content.table(), e.getMessage(), e);
      }
      if (count > 0) {
        digest.add(block, offset, count);
        read.accept(count);
      }
      return count;
    }

    /**
     * @throws StoreException if it was not what was written down of it
     */
    void check() {
      if (!digest.is(content)) {
        throw damaged(path, "table " + content.table(), "its digest is another", null);
      }
    }
  }

  private static StoreException foreign(Path path, String why) {
    return refused("%s is no backup of Soakbench (%s)".formatted(path, why), null);
  }

  private static StoreException newer(Path path, String its, String ours) {
    return refused(
        "%s was written by a newer Soakbench (%s, this one knows up to %s); restore it with that version"
            .formatted(path, its, ours),
        null);
  }

  private static StoreException damaged(Path path, String what, String why, Exception cause) {
    return refused(
        "%s is damaged (%s: %s); copy it again from where it was written, or take another backup"
            .formatted(path, what, why),
        cause);
  }

  private static StoreException refused(String message, Exception cause) {
    return new StoreException(message, cause, false);
  }

  @Override
  public void close() throws IOException {
    zip.close();
  }
}
