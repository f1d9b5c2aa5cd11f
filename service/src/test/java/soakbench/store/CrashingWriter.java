package soakbench.store;

import java.io.IOException;
import java.nio.file.Path;
import soakbench.live.SoakStore.Unit;
import soakbench.store.server.DatabaseSettings;

/**
 * A program that writes until it is killed. Prints the number of samples after each commit. With a
 * second argument it only holds the folder.
 */
final class CrashingWriter {
  static final int PER_UNIT = 500;

  private CrashingWriter() {}

  public static void main(String[] arguments) throws IOException {
    Database database = Database.open(DatabaseSettings.embedded(Path.of(arguments[0])));
    if (arguments.length > 1) {
      System.out.println("holding");
      System.in.read();
      database.close();
      return;
    }
    for (int from = 0; ; from += PER_UNIT) {
      try (Unit unit = database.soakStore().begin()) {
        unit.writeSamples(Samples.samples("A-1", from, from + PER_UNIT));
        unit.commit();
      }
      System.out.println(from + PER_UNIT);
    }
  }
}
