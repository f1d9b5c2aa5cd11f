package soakbench.bench.pictures;

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
public final class BenchPicturesCommand implements Callable<Integer> {
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
    Map<Picture, Pictured> taken = PictureRun.take(folder, 1, Integer.MAX_VALUE);
    PictureParts.write(folder, taken);
    for (Picture picture : taken.keySet()) {
      out.printf("%s %d kB%n", picture.file(), Files.size(folder.resolve(picture.file())) / 1024);
    }
    out.flush();
    return 0;
  }
}
