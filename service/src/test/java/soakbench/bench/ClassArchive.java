package soakbench.bench;

import java.io.File;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.ArrayList;
import java.util.List;
import java.util.spi.ToolProvider;
import java.util.stream.Stream;
import java.util.zip.CRC32;
import soakbench.store.server.ReadyFolder;

/**
 * The classes that a service loads, read and checked once for all programs that tests start: it
 * saves each of them a third of what its start costs. Made below {@code target} by whoever comes
 * first, while the others wait, and named by the class path and its files, so that no program runs
 * classes that were compiled anew since. An archive must be of jars, so our classes are in one.
 */
final class ClassArchive {
  private static final String JAR = "soakbench-tests.jar";
  private static final String ARCHIVE = "classes.jsa";

  private static Path only;

  private ClassArchive() {}

  /** Options of a virtual machine that shall use it, the class path among them. */
  static List<String> options() {
    Path folder = folder();
    return List.of("-XX:SharedArchiveFile=" + folder.resolve(ARCHIVE), "-cp", classPath(folder));
  }

  private static synchronized Path folder() {
    try {
      if (only == null) {
        only = shared();
      }
      return only;
    } catch (IOException e) {
      throw new UncheckedIOException("no archive of classes could be made", e);
    }
  }

  private static Path shared() throws IOException {
    List<Path> compiled = entries().filter(Files::isDirectory).toList();
    Path target = ReadyFolder.classes().getParent();
    Path made = target.resolve("class-archive-" + Long.toHexString(kind(compiled)));
    // The programs that run tests side by side need one of them.
    try (FileChannel lock =
            FileChannel.open(
                target.resolve("class-archive.lock"),
                StandardOpenOption.CREATE,
                StandardOpenOption.WRITE);
        FileLock held = lock.lock()) {
      if (!Files.exists(made.resolve(ARCHIVE))) {
        make(made, compiled);
      }
    }
    return made;
  }

  private static Stream<Path> entries() {
    return Stream.of(System.getProperty("java.class.path").split(File.pathSeparator)).map(Path::of);
  }

  private static long kind(List<Path> compiled) throws IOException {
    CRC32 sum = new CRC32();
    sum.update(System.getProperty("java.class.path").getBytes());
    for (Path folder : compiled) {
      try (Stream<Path> files = Files.walk(folder)) {
        for (Path file : files.filter(Files::isRegularFile).sorted().toList()) {
          String state = file + " " + Files.size(file) + " " + Files.getLastModifiedTime(file);
          sum.update(state.getBytes());
        }
      }
    }
    return sum.getValue();
  }

  /** What is archived is named by where it lies, so it is made where it stays. */
  private static void make(Path made, List<Path> compiled) throws IOException {
    Files.createDirectories(made);
    jar(made.resolve(JAR), compiled);
    Path data = ReadyFolder.in(Files.createTempDirectory("soakbench-archive").resolve("data"));
    List<String> virtualMachine = new ArrayList<>(Program.SOON);
    virtualMachine.add("-XX:ArchiveClassesAtExit=" + made.resolve(ARCHIVE));
    virtualMachine.addAll(List.of("-cp", classPath(made)));
    ServedProcess.start(data, null, virtualMachine).close();
  }

  private static void jar(Path jar, List<Path> compiled) {
    List<String> arguments = new ArrayList<>(List.of("-c", "-0", "-f", jar.toString()));
    compiled.forEach(folder -> arguments.addAll(List.of("-C", folder.toString(), ".")));
    StringWriter said = new StringWriter();
    PrintWriter out = new PrintWriter(said);
    int code =
        ToolProvider.findFirst("jar").orElseThrow().run(out, out, arguments.toArray(String[]::new));
    if (code != 0) {
      throw new IllegalStateException("no jar of " + compiled + ": " + said);
    }
  }

  private static String classPath(Path folder) {
    Stream<String> libraries =
        entries().filter(entry -> !Files.isDirectory(entry)).map(Path::toString);
    return String.join(
        File.pathSeparator,
        Stream.concat(Stream.of(folder.resolve(JAR).toString()), libraries).toList());
  }
}
