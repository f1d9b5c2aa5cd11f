package soakbench.api.sheet;

import java.io.IOException;
import java.io.OutputStream;
import java.net.URI;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.Callable;
import java.util.stream.IntStream;
import picocli.CommandLine.Command;
import picocli.CommandLine.Parameters;

/** Writes the workbook with live cells that lies in docs, for the trackers of the demo. */
@Command(
    name = "workbook",
    description = "writes the workbook with live cells that lies in docs",
    mixinStandardHelpOptions = true)
public final class BenchWorkbookCommand implements Callable<Integer> {
  @Parameters(paramLabel = "FILE", description = "where: docs/live-cells.xlsx")
  private Path file;

  @Override
  public Integer call() throws IOException {
    List<String> trackers = IntStream.rangeClosed(1, 12).mapToObj("MRY-%02d"::formatted).toList();
    try (OutputStream out = Files.newOutputStream(file)) {
      LiveWorkbook.write(out, URI.create("http://127.0.0.1:8094"), trackers);
    }
    return 0;
  }
}
