package soakbench.store.backup;

import java.util.Locale;

/**
 * What is in a backup, in words for people.
 *
 * @param manifest its manifest
 * @param fileBytes what the file takes
 */
public final class Summary {
  private final Manifest manifest;
  private final long fileBytes;

  Summary(Manifest manifest, long fileBytes) {
    this.manifest = manifest;
    this.fileBytes = fileBytes;
  }

  /** When it was made and what it holds. */
  public String words() {
    return String.format(
        Locale.ROOT,
        "made %s, schema %s: %,d soaks, %,d samples, %,d roster entries; %,d rows of %d tables,"
            + " %.1f MB",
        manifest.created(),
        manifest.schema(),
        manifest.rowsOf("soak"),
        manifest.rowsOf("sample"),
        manifest.rowsOf("tracker"),
        manifest.rows(),
        manifest.tables().size(),
        fileBytes / 1e6);
  }
}
