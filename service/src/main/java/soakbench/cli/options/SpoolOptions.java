package soakbench.cli.options;

import java.nio.file.Path;
import org.slf4j.LoggerFactory;
import picocli.CommandLine.Option;
import soakbench.ingest.spool.SqliteSpool;

/** Where samples are kept until they are stored, and how many of them. */
public final class SpoolOptions {
  /** The spool's name where none is given. */
  public static final String FILE = "spool.db";

  private static final long MIB = 1 << 20;
  private static final int LEAST_MIB = 1;
  private static final int MOST_MIB = 1 << 20;

  @Option(
      names = "--spool",
      paramLabel = "FILE",
      description = "where samples are kept on disk until they are stored (default " + FILE + ")")
  private Path file;

  @Option(
      names = "--spool-mb",
      paramLabel = "MIB",
      defaultValue = "1024",
      description = "how large it may get, MiB (default ${DEFAULT-VALUE}: ten million samples)")
  private int limitMib;

  @Option(
      names = "--retry-refused",
      description = "sends once more what was refused and set aside in the spool")
  private boolean retryRefused;

  /**
   * Opens the spool.
   *
   * @param folder where it lies if no file was given
   */
  public SqliteSpool open(Path folder) {
    SqliteSpool spool = SqliteSpool.open(file(folder), limitBytes());
    if (retryRefused) {
      long again = spool.retryRefused();
      LoggerFactory.getLogger(SpoolOptions.class).info("{} refused samples are sent again", again);
    }
    return spool;
  }

  /**
   * The spool's file.
   *
   * @param folder where it lies if none was given
   */
  public Path file(Path folder) {
    return file == null ? folder.resolve(FILE) : file;
  }

  private long limitBytes() {
    if (limitMib < LEAST_MIB || limitMib > MOST_MIB) {
      throw new CommandException(
          "--spool-mb " + limitMib + " is outside 1 to " + MOST_MIB + " MiB");
    }
    return limitMib * MIB;
  }
}
