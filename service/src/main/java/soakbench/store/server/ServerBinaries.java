package soakbench.store.server;

import io.zonky.test.db.postgres.embedded.DefaultPostgresBinaryResolver;
import io.zonky.test.db.postgres.embedded.PgBinaryResolver;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.stream.Stream;
import soakbench.host.OwnerOnly;

/**
 * Where the server's binaries are unpacked to. The library unpacks once for each resolver that is
 * not equal to an earlier one, so the folder is part of this one.
 */
public record ServerBinaries(Path folder) implements PgBinaryResolver {

  /** Names a folder for the unpacked programs that several data folders share. */
  public static final String PROPERTY = "soakbench.programs";

  static ServerBinaries of(DataFolder folder) throws IOException {
    String shared = System.getProperty(PROPERTY);
    if (shared != null) {
      return new ServerBinaries(Path.of(shared).toAbsolutePath());
    }
    Path own = folder.programs();
    removeHalfUnpacked(own);
    // The library opens its folder to everybody's writing; the one around it keeps them out.
    OwnerOnly.makeFolder(own.getParent());
    return new ServerBinaries(own);
  }

  @Override
  public InputStream getPgBinary(String system, String machine) throws IOException {
    return DefaultPostgresBinaryResolver.INSTANCE.getPgBinary(system, machine);
  }

  /** The library takes a file that is there for a whole one; a cut-off unpacking leaves others. */
  private static void removeHalfUnpacked(Path programs) throws IOException {
    if (!Files.isDirectory(programs)) {
      return;
    }
    try (Stream<Path> versions = Files.list(programs)) {
      for (Path version : versions.toList()) {
        if (!Files.exists(version.resolve(".exists"))) {
          Folders.delete(version);
        }
      }
    }
  }
}
