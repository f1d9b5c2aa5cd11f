package soakbench.store.backup;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.catchThrowable;

import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Random;
import java.util.function.Consumer;
import java.util.function.ObjDoubleConsumer;
import java.util.zip.ZipEntry;
import java.util.zip.ZipFile;
import java.util.zip.ZipOutputStream;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import soakbench.live.StoreException;
import soakbench.store.SharedServer;
import soakbench.store.server.DatabaseSettings;

/** Files that can't be restored are refused in one sentence, before anything is done. */
class BadBackupTest {
  private static final ObjDoubleConsumer<String> SILENT = (words, share) -> {};
  private static final ObjectMapper MAPPER = new ObjectMapper();

  @TempDir private static Path folder;

  private static Path good;

  @BeforeAll
  static void write() throws Exception {
    DatabaseSettings store = SharedServer.empty();
    StoredRows.change(
        store,
        "INSERT INTO stale SELECT 'finch-' || n, n, n + 1 FROM generate_series(1, 200) AS n");
    good = folder.resolve("good.zip");
    Backup.write(store, good, SILENT);
  }

  private static Path file(byte[] bytes) throws IOException {
    return Files.write(folder.resolve("bad.zip"), bytes);
  }

  /** Into a folder that is not there: it must not be there afterwards either. */
  private static void refused(Path file, String... words) {
    Path target = folder.resolve("target");
    assertThatThrownBy(() -> Restore.into(DatabaseSettings.embedded(target), file, SILENT))
        .isInstanceOf(StoreException.class)
        .hasMessageStartingWith(file.toString())
        .hasMessageContainingAll(words)
        .message()
        .doesNotContain("\n", "Exception");
    assertThat(target).doesNotExist();
  }

  /** The good one with another content of some entries; null takes one out. */
  private static Path with(Map<String, String> others) throws IOException {
    Path file = folder.resolve("bad.zip");
    try (ZipFile from = new ZipFile(good.toFile());
        ZipOutputStream to = new ZipOutputStream(Files.newOutputStream(file))) {
      for (ZipEntry entry : from.stream().toList()) {
        String name = entry.getName();
        byte[] bytes = from.getInputStream(entry).readAllBytes();
        if (others.containsKey(name) && others.get(name) == null) {
          continue;
        }
        to.putNextEntry(new ZipEntry(name));
        to.write(
            others.containsKey(name) ? others.get(name).getBytes(StandardCharsets.UTF_8) : bytes);
        to.closeEntry();
      }
    }
    return file;
  }

  private static Path without(String entry) throws IOException {
    Map<String, String> none = new LinkedHashMap<>();
    none.put(entry, null);
    return with(none);
  }

  private static Path withManifest(Consumer<ObjectNode> change) throws IOException {
    return with(Map.of("manifest.json", manifest(change)));
  }

  private static String manifest(Consumer<ObjectNode> change) throws IOException {
    try (ZipFile zip = new ZipFile(good.toFile())) {
      ObjectNode manifest =
          (ObjectNode) MAPPER.readTree(zip.getInputStream(zip.getEntry("manifest.json")));
      change.accept(manifest);
      return manifest.toString();
    }
  }

  @Test
  void oneThatIsCutShortAnywhereIsRefused() throws Exception {
    byte[] whole = Files.readAllBytes(good);
    for (int part = 1; part < 40; part++) {
      int length = whole.length * part / 40;
      refused(file(Arrays.copyOf(whole, length)), "is cut short or damaged");
    }
    refused(file(Arrays.copyOf(whole, whole.length - 1)), "is cut short or damaged");
  }

  /** A byte may stand where nobody looks, such as a time of the archive; then all is as it was. */
  @Test
  void aDamagedByteIsFoundOrHarmless() throws Exception {
    long seed = Long.getLong("soakbench.test.seed", System.nanoTime());
    System.out.println("BadBackupTest: -Dsoakbench.test.seed=" + seed);
    Random random = new Random(seed);
    byte[] whole = Files.readAllBytes(good);
    String before = MAPPER.writeValueAsString(contents(good));
    int found = 0;
    for (int i = 0; i < 300; i++) {
      byte[] bytes = whole.clone();
      int place = random.nextInt(bytes.length);
      bytes[place] ^= (byte) (1 << random.nextInt(8));
      found += foundIn(bytes, place, before) ? 1 : 0;
    }
    assertThat(found).isGreaterThan(100);
  }

  /** The archive's directory: its names are read only when they are asked for. */
  @Test
  void aDirectoryWhoseBytesAreNoTextIsFoundOrHarmless() throws Exception {
    byte[] whole = Files.readAllBytes(good);
    String before = MAPPER.writeValueAsString(contents(good));
    int from = new String(whole, StandardCharsets.ISO_8859_1).indexOf("PK\1\2");
    int found = 0;
    for (int place = from; place < whole.length; place++) {
      byte[] bytes = whole.clone();
      bytes[place] ^= (byte) 0x80;
      found += foundIn(bytes, place, before) ? 1 : 0;
    }
    assertThat(found).isGreaterThan((whole.length - from) / 2);
  }

  /** Whether what was damaged is refused; else it must be what it was. */
  private boolean foundIn(byte[] bytes, int place, String before) throws IOException {
    Path file = file(bytes);
    Throwable refusal = catchThrowable(() -> Restore.check(file, SILENT));
    if (refusal == null) {
      assertThat(MAPPER.writeValueAsString(contents(file))).as("byte " + place).isEqualTo(before);
      return false;
    }
    assertThat(refusal).as("byte " + place).isInstanceOf(StoreException.class);
    return true;
  }

  private static Object contents(Path file) throws IOException {
    try (BackupFile backup = BackupFile.open(file)) {
      return backup.manifest();
    }
  }

  @Test
  void anotherTextOfATableIsFoundThoughTheArchiveIsSound() throws Exception {
    String other = "finch-1\t1\t3\n";
    refused(with(Map.of("tables/stale.txt", other)), "is damaged (table stale: its digest");
    refused(without("tables/stale.txt"), "is damaged (table stale: it is missing)");
  }

  @Test
  void whatIsNoBackupIsSaidToBeNone() throws Exception {
    refused(file(new byte[0]), "is no backup of Soakbench (it is empty)");
    refused(file("id,temp_c\nfinch-1,25\n".getBytes(StandardCharsets.UTF_8)), "it is no zip");
    refused(without("manifest.json"), "is no backup of Soakbench (it has no manifest.json)");
    refused(with(Map.of("manifest.json", "{\"name\":\"a page\"}")), "is another program's");
    refused(with(Map.of("manifest.json", "{\"soakbench_backup\":1}")), "can't be read");
    refused(withManifest(m -> m.put("schema", "young")), "can't be read");
  }

  @Test
  void oneOfANewerProgramIsSaidToBeSo() throws Exception {
    refused(withManifest(m -> m.put("schema", "9999")), "newer Soakbench (schema 9999", "up to ");
    refused(
        with(Map.of("manifest.json", "{\"soakbench_backup\":2}")),
        "newer Soakbench (form 2, this one knows up to form 1)");
  }

  /** A sound archive that claims what no release wrote. */
  @Test
  void tablesThatItsSchemaHasNotAreNotRestored() throws Exception {
    DatabaseSettings target = SharedServer.empty();
    Path file =
        withManifest(
            m -> m.get("tables").forEach(t -> rename((ObjectNode) t, "stale", "pg_authid")));
    Path renamed = with(Map.of("manifest.json", manifestOf(file), "tables/pg_authid.txt", ""));
    assertThatThrownBy(() -> Restore.into(target, renamed, SILENT))
        .isInstanceOf(StoreException.class);
    assertThat(StoredRows.of(target).values()).allMatch(java.util.List::isEmpty);
  }

  private static void rename(ObjectNode table, String from, String to) {
    if (table.get("table").asText().equals(from)) {
      table.put("table", to);
    }
  }

  private static String manifestOf(Path file) throws IOException {
    try (ZipFile zip = new ZipFile(file.toFile())) {
      return MAPPER.readTree(zip.getInputStream(zip.getEntry("manifest.json"))).toString();
    }
  }
}
