package soakbench.host;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.URISyntaxException;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileVisitResult;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.SimpleFileVisitor;
import java.nio.file.attribute.BasicFileAttributes;
import java.util.SortedSet;
import java.util.TreeSet;
import java.util.stream.Stream;
import java.util.zip.CRC32;
import java.util.zip.ZipFile;

/** Names the running program, with all that its results may depend on. */
public final class ProgramDigest {
  private ProgramDigest() {}

  private static final class Running {
    static final String DIGEST = of(code());
  }

  /**
   * The running program in few characters: others for other code, another version of Java or
   * another kind of processor. The same code built again may be named otherwise.
   */
  public static String running() {
    return Running.DIGEST;
  }

  /**
   * The same of code that lies elsewhere.
   *
   * @param code a jar with all that it uses, or a folder of classes
   */
  static String of(Path code) {
    CRC32 all = new CRC32();
    Stream.of("java.vm.name", "java.vm.version", "os.arch")
        .forEach(each -> add(all, System.getProperty(each)));
    try {
      if (Files.isDirectory(code)) {
        add(all, System.getProperty("java.class.path"));
        addFolder(all, code);
      } else {
        addJar(all, code);
      }
    } catch (IOException e) {
      throw new UncheckedIOException("the program's own code in " + code + " can't be read", e);
    }
    return Long.toHexString(all.getValue());
  }

  private static Path code() {
    try {
      return Path.of(
          ProgramDigest.class.getProtectionDomain().getCodeSource().getLocation().toURI());
    } catch (URISyntaxException e) {
      throw new IllegalStateException(e);
    }
  }

  /** A jar tells the checksum of each file in it. */
  private static void addJar(CRC32 all, Path jar) throws IOException {
    try (ZipFile zip = new ZipFile(jar.toFile())) {
      zip.stream().forEach(file -> add(all, file.getName() + file.getCrc()));
    }
  }

  /** Each file by its size and time: reading all of it would cost a start a tenth of a second. */
  private static void addFolder(CRC32 all, Path folder) throws IOException {
    SortedSet<String> files = new TreeSet<>();
    SimpleFileVisitor<Path> each =
        new SimpleFileVisitor<>() {
          @Override
          public FileVisitResult visitFile(Path file, BasicFileAttributes is) {
            files.add(folder.relativize(file) + " " + is.size() + " " + is.lastModifiedTime());
            return FileVisitResult.CONTINUE;
          }
        };
    Files.walkFileTree(folder, each);
    files.forEach(file -> add(all, file));
  }

  private static void add(CRC32 all, String text) {
    all.update((text + "\n").getBytes(StandardCharsets.UTF_8));
  }
}
