package soakbench.ingest.spool;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.AccessDeniedException;
import java.nio.file.Path;
import java.sql.SQLException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.sqlite.SQLiteErrorCode;
import org.sqlite.SQLiteException;

/** Codes by SQLite's list of result codes; an extended one bears its primary in its low byte. */
class SpoolFaultsTest {
  private static final Path FILE = Path.of("spool.db");

  private static SQLException fault(SQLiteErrorCode code) {
    return new SQLiteException("words of it\nand more", code);
  }

  @ParameterizedTest
  @CsvSource({
    "SQLITE_CORRUPT, true",
    "SQLITE_CORRUPT_INDEX, true",
    "SQLITE_NOTADB, true",
    "SQLITE_ERROR, true",
    "SQLITE_SCHEMA, true",
    "SQLITE_FULL, false",
    "SQLITE_BUSY, false",
    "SQLITE_IOERR_WRITE, false",
    "SQLITE_CANTOPEN, false"
  })
  void onlyABrokenFileIsDamage(SQLiteErrorCode code, boolean damage) {
    assertThat(SpoolFaults.isDamage(FILE, fault(code))).isEqualTo(damage);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "SQLITE_FULL | its disk is full; make room on it",
        "SQLITE_READONLY | it may only be read; give the file and its folder to this user",
        "SQLITE_READONLY_DIRECTORY | it may only be read; give the file and its folder to this"
            + " user",
        "SQLITE_PERM | it may only be read; give the file and its folder to this user",
        "SQLITE_CANTOPEN_ISDIR | it can't be opened; look at the rights of the file",
        "SQLITE_BUSY | another program holds it; close what has the file open",
        "SQLITE_IOERR_FSYNC | its disk fails or is full: words of it",
        "SQLITE_TOOBIG | words of it"
      })
  void eachFaultIsOneSentenceThatSaysWhatToDo(SQLiteErrorCode code, String why) {
    SQLException fault = fault(code);
    assertThat(SpoolFaults.of(FILE, fault))
        .hasMessage("the spool spool.db can't be used: " + why)
        .hasCause(fault);
  }

  @Test
  void aDriversOwnCodeIsUnderstoodWithoutItsClass() {
    assertThat(SpoolFaults.of(FILE, new SQLException("any", "", 13)))
        .hasMessage("the spool spool.db can't be used: its disk is full; make room on it");
  }

  @Test
  void aFaultWithoutWordsIsStillToldAsSomething() {
    assertThat(SpoolFaults.detail(new SQLException())).isEqualTo("java.sql.SQLException");
    assertThat(SpoolFaults.detail(new SQLException(""))).isEqualTo("no words for it");
  }

  @Test
  void aFullSpoolSaysHowMuchWaitsInHowMuch() {
    assertThat(SpoolFaults.full(FILE, 512L << 20, 1_234))
        .hasMessage(
            "the spool spool.db is full: 1234 samples wait in 512 MiB; what comes now is lost until"
                + " some are stored");
  }

  @Test
  void oneThatIsInUseOrCannotBeWrittenNamesTheOptionForAnother() {
    assertThat(SpoolFaults.inUse(FILE, "process 12", new IOException()))
        .hasMessage(
            "the spool spool.db is in use by another copy of this program (process 12); stop it, or"
                + " name another file with --spool");
    assertThat(SpoolFaults.unusable(FILE, new AccessDeniedException("spool.db")))
        .hasMessage(
            "the spool spool.db can't be written (user %s may not write there); mend that, or name"
                    .formatted(System.getProperty("user.name"))
                + " another file with --spool");
  }
}
