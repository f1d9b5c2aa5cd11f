package soakbench.ingest.spool;

import java.io.IOException;
import java.nio.file.Path;
import java.sql.SQLException;
import org.sqlite.NativeLibraryNotFoundException;
import org.sqlite.SQLiteErrorCode;
import org.sqlite.SQLiteException;
import soakbench.host.ProgramLock;

/** Turns what SQLite throws into one clear sentence. */
final class SpoolFaults {
  private static final int PRIMARY_CODE = 0xff;
  private static final long MIB = 1 << 20;

  private SpoolFaults() {}

  /** Whether the file itself is broken, rather than the disk full or the like. */
  static boolean isDamage(Path file, SQLException fault) {
    return switch (code(fault)) {
      case SQLITE_READONLY -> SpoolFile.isOnlySaidReadOnly(file);
      case SQLITE_CORRUPT, SQLITE_NOTADB, SQLITE_FORMAT -> true;
      // The schema was checked when the file was opened: a table that is missing now is damage.
      case SQLITE_ERROR, SQLITE_SCHEMA, SQLITE_MISMATCH -> true;
      default -> false;
    };
  }

  static SpoolException of(Path file, SQLException fault) {
    for (Throwable cause = fault; cause != null; cause = cause.getCause()) {
      if (cause instanceof NativeLibraryNotFoundException) {
        return new SpoolException(
            "the spool "
                + file
                + " can't be used: SQLite's native code does not load from its folder, which may be"
                + " mounted noexec or full; start java with -Dorg.sqlite.tmpdir=FOLDER, one that is"
                + " neither",
            fault);
      }
    }
    String why =
        switch (code(fault)) {
          case SQLITE_FULL -> "its disk is full; make room on it";
          case SQLITE_READONLY, SQLITE_PERM, SQLITE_AUTH ->
              "it may only be read; give the file and its folder to this user";
          case SQLITE_CANTOPEN -> "it can't be opened; look at the rights of the file";
          case SQLITE_BUSY, SQLITE_LOCKED ->
              "another program holds it; close what has the file open";
          case SQLITE_IOERR -> "its disk fails or is full: " + detail(fault);
          default -> detail(fault);
        };
    return new SpoolException("the spool " + file + " can't be used: " + why, fault);
  }

  static SpoolException full(Path file, long limitBytes, long waiting) {
    return new SpoolException(
        "the spool %s is full: %d samples wait in %d MiB; what comes now is lost until some are stored"
            .formatted(file, waiting, limitBytes / MIB),
        null);
  }

  static SpoolException inUse(Path file, String holder, IOException cause) {
    return new SpoolException(
        "the spool %s is in use by another copy of this program (%s); stop it, or name another file with --spool"
            .formatted(file, holder),
        cause);
  }

  static SpoolException unusable(Path file, IOException cause) {
    return new SpoolException(
        "the spool %s can't be written (%s); mend that, or name another file with --spool"
            .formatted(file, ProgramLock.why(cause)),
        cause);
  }

  private static SQLiteErrorCode code(SQLException fault) {
    int code = fault instanceof SQLiteException e ? e.getResultCode().code : fault.getErrorCode();
    return SQLiteErrorCode.getErrorCode(code & PRIMARY_CODE);
  }

  static SQLException damage(String what) {
    return new SQLiteException(what, SQLiteErrorCode.SQLITE_CORRUPT);
  }

  static String detail(SQLException fault) {
    String text = fault.getMessage() == null ? fault.toString() : fault.getMessage();
    return text.lines().findFirst().orElse("no words for it");
  }
}
