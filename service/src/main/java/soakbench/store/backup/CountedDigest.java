package soakbench.store.backup;

import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;

/** Bytes, lines and SHA-256 of what goes by. Not thread-safe. */
final class CountedDigest {
  private final MessageDigest sha256;
  private long bytes;
  private long lines;

  CountedDigest() {
    try {
      sha256 = MessageDigest.getInstance("SHA-256");
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("every Java has SHA-256", e);
    }
  }

  void add(byte[] block, int offset, int length) {
    sha256.update(block, offset, length);
    bytes += length;
    for (int i = offset; i < offset + length; i++) {
      if (block[i] == '\n') {
        lines++;
      }
    }
  }

  long bytes() {
    return bytes;
  }

  /** To be called once, at the end. */
  Manifest.Content content(StoredTable of) {
    return new Manifest.Content(of.name(), of.columns(), lines, bytes, hex());
  }

  /** Whether this is what was written down of a table. To be called once, at the end. */
  boolean is(Manifest.Content written) {
    return written.bytes() == bytes && written.rows() == lines && written.sha256().equals(hex());
  }

  private String hex() {
    return HexFormat.of().formatHex(sha256.digest());
  }
}
