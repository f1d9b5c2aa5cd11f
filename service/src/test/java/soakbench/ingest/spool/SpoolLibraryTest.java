package soakbench.ingest.spool;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class SpoolLibraryTest {
  private static final String FOLDER = "org.sqlite.tmpdir";

  @TempDir private Path folder;
  private String before;

  @BeforeEach
  void forget() {
    before = System.clearProperty(FOLDER);
  }

  @AfterEach
  void putBack() {
    System.clearProperty(FOLDER);
    if (before != null) {
      System.setProperty(FOLDER, before);
    }
  }

  @Test
  void theCodeLiesBesideTheSpoolAndElsewhereOnceThatFolderIsGone() throws Exception {
    SpoolLibrary.prepare(folder.resolve("first.db"));
    Path first = folder.resolve("first.db.lib");
    assertThat(System.getProperty(FOLDER)).isEqualTo(first.toString());
    SpoolLibrary.prepare(folder.resolve("second.db"));
    assertThat(System.getProperty(FOLDER)).isEqualTo(first.toString());
    Files.delete(first);
    SpoolLibrary.prepare(folder.resolve("third.db"));
    assertThat(System.getProperty(FOLDER)).isEqualTo(folder.resolve("third.db.lib").toString());
  }

  @Test
  void whatWasChosenForARefusedSpoolAndIsGoneIsNoChoiceOfTheUsers() throws Exception {
    Path text = Files.writeString(folder.resolve("notes.txt"), "not a spool\n");
    assertThatThrownBy(() -> SqliteSpool.open(text, 1 << 24)).isInstanceOf(SpoolException.class);
    String stale = folder.resolve("gone.lib").toString();
    System.setProperty(FOLDER, stale);
    SpoolLibrary.prepare(folder.resolve("spool.db"));
    assertThat(System.getProperty(FOLDER)).isEqualTo(folder.resolve("spool.db.lib").toString());
  }

  @Test
  void aFolderThatTheUserSetIsLeftAlone() throws Exception {
    System.setProperty(FOLDER, folder.resolve("nowhere").toString());
    SpoolLibrary.prepare(folder.resolve("spool.db"), true);
    assertThat(System.getProperty(FOLDER)).isEqualTo(folder.resolve("nowhere").toString());
    assertThat(folder.resolve("spool.db.lib")).doesNotExist();
  }
}
