package soakbench.store.backup;

import java.io.BufferedOutputStream;
import java.io.FilterOutputStream;
import java.io.IOException;
import java.io.InterruptedIOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.SQLException;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.function.ObjDoubleConsumer;
import java.util.stream.Collectors;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;
import org.postgresql.PGConnection;
import soakbench.live.StoreException;
import soakbench.store.connection.DatabaseFaults;
import soakbench.store.connection.Query;
import soakbench.store.connection.Schema;
import soakbench.store.server.DatabaseSettings;

/**
 * Writes all that a store holds into one file, also while a service is at work on it: as it was at
 * one moment, what was derived included.
 */
public final class Backup {
  /** Of 1 to 9: at 6 a file of samples is 8 % smaller, and takes three times as long. */
  private static final int LEVEL = 4;

  private static final int BLOCK = 1 << 16;

  private final OpenStore store;
  private final ObjDoubleConsumer<String> progress;

  private Backup(OpenStore store, ObjDoubleConsumer<String> progress) {
    this.store = store;
    this.progress = progress;
  }

  /**
   * Writes a backup.
   *
   * @param to gets its name only when it is whole; a backup that had the name is replaced
   * @param progress receives what is being copied and about which share is done, 0 to 1
   * @return what is in it
   * @throws StoreException if there is no store, it can't be reached, or {@code to} is something
   *     else than a backup
   * @throws IOException if the file can't be written
   */
  public static Summary write(
      DatabaseSettings settings, Path to, ObjDoubleConsumer<String> progress) throws IOException {
    refuseOtherFiles(to);
    try (WholeFile file = WholeFile.begin(to);
        OpenStore store = OpenStore.toRead(settings)) {
      Manifest manifest = new Backup(store, progress).writeTo(file.out());
      file.finish();
      return new Summary(manifest, Files.size(to));
    }
  }

  private static void refuseOtherFiles(Path file) throws IOException {
    Path folder = file.toAbsolutePath().getParent();
    if (folder != null && !Files.isDirectory(folder)) {
      throw new StoreException(
          folder + " is no folder; make it first, or name another", null, false);
    }
    if (!Files.exists(file)) {
      return;
    }
    if (Files.isDirectory(file)) {
      throw new StoreException(file + " is a folder; name a file in it", null, false);
    }
    try (BackupFile before = BackupFile.open(file)) {
      // Will be replaced.
    } catch (StoreException e) {
      throw new StoreException(
          "%s; it is not written over: choose another name".formatted(e.getMessage()), e, false);
    }
  }

  private Manifest writeTo(OutputStream file) throws IOException {
    try (Connection connection = store.connect();
        ZipOutputStream zip = new ZipOutputStream(new BufferedOutputStream(file, BLOCK))) {
      connection.setReadOnly(true);
      zip.setLevel(LEVEL);
      Manifest manifest = copyAll(connection, zip);
      zip.putNextEntry(new ZipEntry(BackupFile.MANIFEST));
      zip.write(manifest.json());
      zip.closeEntry();
      zip.finish();
      connection.rollback();
      return manifest;
    } catch (SQLException e) {
      throw DatabaseFaults.of("copying its tables", e);
    }
  }

  private Manifest copyAll(Connection c, ZipOutputStream zip) throws SQLException, IOException {
    List<StoredTable> tables = locked(c);
    String schema = Schema.version(c).orElseThrow(this::none);
    List<Manifest.Content> contents = new ArrayList<>();
    long allBytes = Math.max(1, tables.stream().mapToLong(StoredTable::sizeBytes).sum());
    long before = 0;
    for (StoredTable table : tables) {
      contents.add(copy(c, table, zip, new Share(table, before, allBytes)));
      before += table.sizeBytes();
    }
    return new Manifest(
        Manifest.FORM,
        Backup.class.getPackage().getImplementationVersion(),
        Instant.now().truncatedTo(ChronoUnit.SECONDS).toString(),
        schema,
        Query.first(c, rows -> rows.getString(1), "SELECT version()").orElseThrow(),
        contents,
        counters(c, tables));
  }

  private StoreException none() {
    return new StoreException(
        "%s holds no tables of Soakbench; check the address".formatted(store), null, false);
  }

  /**
   * The tables, none of which goes away or changes its columns until the end. The lock comes first:
   * what the transaction sees is what was there at its first question.
   */
  private List<StoredTable> locked(Connection c) throws SQLException {
    List<StoredTable> tables = StoredTable.of(c);
    c.commit();
    if (tables.isEmpty()) {
      throw none();
    }
    String names = tables.stream().map(StoredTable::quoted).collect(Collectors.joining(", "));
    Query.change(c, "LOCK TABLE " + names + " IN ACCESS SHARE MODE");
    return StoredTable.of(c);
  }

  private Manifest.Content copy(Connection c, StoredTable table, ZipOutputStream zip, Share share)
      throws SQLException, IOException {
    zip.putNextEntry(new ZipEntry(BackupFile.entryOf(table.name())));
    CountedDigest digest = new CountedDigest();
    Text text = new Text(zip, digest, share);
    OutputStream blocks = new BufferedOutputStream(text, BLOCK);
    // Of a query: a hypertable's rows lie in its chunks, which COPY of a table leaves out.
    String sql =
        "COPY (SELECT %s FROM %s) TO STDOUT".formatted(table.quotedColumns(), table.quoted());
    long rows = c.unwrap(PGConnection.class).getCopyAPI().copyOut(sql, blocks);
    blocks.flush();
    zip.closeEntry();
    Manifest.Content content = digest.content(table);
    if (content.rows() != rows) {
      throw new IllegalStateException(table.name() + ": " + rows + " rows are " + content);
    }
    return content;
  }

  private static List<Manifest.Counter> counters(Connection c, List<StoredTable> tables)
      throws SQLException {
    List<Manifest.Counter> counters = new ArrayList<>();
    for (StoredTable table : tables) {
      for (String column : table.counters()) {
        String sequence = Counters.sequence(c, table, column);
        String next = "SELECT last_value + is_called::int FROM " + sequence;
        counters.add(
            new Manifest.Counter(
                table.name(), column, Query.first(c, rows -> rows.getLong(1), next).orElseThrow()));
      }
    }
    return counters;
  }

  /** About how much is done. */
  private final class Share {
    private final StoredTable table;
    private final long beforeBytes;
    private final double allBytes;

    Share(StoredTable table, long beforeBytes, long allBytes) {
      this.table = table;
      this.beforeBytes = beforeBytes;
      this.allBytes = allBytes;
    }

    /** So many bytes of its text are copied: about as many as it has on the disk. */
    void at(long textBytes) {
      long done = beforeBytes + Math.min(textBytes, table.sizeBytes());
      progress.accept(table.name(), done / allBytes);
    }
  }

  /** A table's text on its way into the archive. */
  private static final class Text extends FilterOutputStream {
    private final CountedDigest digest;
    private final Share share;

    Text(OutputStream out, CountedDigest digest, Share share) {
      super(out);
      this.digest = digest;
      this.share = share;
    }

    @Override
    public void write(byte[] block, int offset, int length) throws IOException {
      if (Thread.currentThread().isInterrupted()) {
        throw new InterruptedIOException("the backup was interrupted");
      }
      digest.add(block, offset, length);
      out.write(block, offset, length);
      share.at(digest.bytes());
    }
  }
}
