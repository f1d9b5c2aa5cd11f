package soakbench.host;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class ProgramDigestTest {
  @TempDir Path folder;

  private String folderWith(String name, String content) throws IOException {
    Path code = Files.createTempDirectory(folder, "code");
    Files.createDirectory(code.resolve("a"));
    Path file = Files.writeString(code.resolve("a").resolve(name), content);
    Files.setLastModifiedTime(file, FileTime.fromMillis(1_000L * content.hashCode()));
    return ProgramDigest.of(code);
  }

  private String jarWith(String name, String content) throws IOException {
    Path jar = Files.createTempFile(folder, "code", ".jar");
    try (ZipOutputStream zip = new ZipOutputStream(Files.newOutputStream(jar))) {
      zip.putNextEntry(new ZipEntry(name));
      zip.write(content.getBytes());
    }
    return ProgramDigest.of(jar);
  }

  @Test
  void theSameCodeHasTheSameNameAndOtherCodeAnother() throws IOException {
    assertThat(folderWith("A", "one"))
        .isEqualTo(folderWith("A", "one"))
        .isNotEqualTo(folderWith("A", "two"))
        .isNotEqualTo(folderWith("B", "one"));
    assertThat(jarWith("A", "one"))
        .isEqualTo(jarWith("A", "one"))
        .isNotEqualTo(jarWith("A", "two"))
        .isNotEqualTo(jarWith("B", "one"));
  }

  @Test
  void anotherJavaIsAnotherProgram() throws IOException {
    String before = folderWith("A", "one");
    String java = System.getProperty("java.vm.version");
    System.setProperty("java.vm.version", java + "x");
    try {
      assertThat(folderWith("A", "one")).isNotEqualTo(before);
    } finally {
      System.setProperty("java.vm.version", java);
    }
  }

  @Test
  void theRunningProgramHasOne() {
    assertThat(ProgramDigest.running()).isNotBlank().isEqualTo(ProgramDigest.running());
  }
}
