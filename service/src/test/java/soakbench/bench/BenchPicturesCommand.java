package soakbench.bench;

import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** Takes the pictures of the documentation. */
@Command(
    name = "pictures",
    description = "Takes the pictures of the documentation from the demo, in a real browser.",
    mixinStandardHelpOptions = true,
    footer = {"", "Example: soakbench bench pictures --to ../docs"})
final class BenchPicturesCommand implements Callable<Integer> {
  /** One line in so many is enough to tell what a page consists of. */
  static final int QUICKLY = 5;

  @Option(
      names = "--to",
      paramLabel = "FOLDER",
      defaultValue = "../docs",
      description = "where they go (default ${DEFAULT-VALUE}, as seen from service)")
  private Path folder;

  @Spec private CommandSpec spec;

  @Override
  public Integer call() throws Exception {
    PrintWriter out = spec.commandLine().getOut();
    PictureRun.take(folder, 1, Map.of());
    Path beside = Files.createTempDirectory("soakbench-pictures-");
    Map<Picture, Pictured> quick = PictureRun.take(beside, QUICKLY, Map.of());
    PictureParts.write(folder, quick);
    for (Picture picture : quick.keySet()) {
      out.printf("%s %d kB%n", picture.file(), Files.size(folder.resolve(picture.file())) / 1024);
      Files.delete(beside.resolve(picture.file()));
    }
    Files.delete(beside);
    out.flush();
    return 0;
  }
}
