package soakbench.store;

import java.nio.file.Path;
import java.util.List;
import soakbench.live.EventClock;
import soakbench.live.watch.SoakWatch;
import soakbench.model.Sample;
import soakbench.store.server.DatabaseSettings;

/**
 * A program that goes on with a soak, and keeps its judge again and again, until it is killed.
 * Prints the number of samples after each commit.
 */
final class KeepingWriter {
  static final String TRACKER = "A-1";
  static final String PROGRAM = "p";
  private static final int AT_ONCE = 50;

  private KeepingWriter() {}

  static SoakWatch watch(Database database, String program) {
    EventClock still = () -> 0;
    SoakWatch watch = new SoakWatch(database.soakStore(), null, still);
    watch.keepJudges(program);
    watch.restore();
    return watch;
  }

  public static void main(String[] arguments) {
    Database database = Database.open(DatabaseSettings.embedded(Path.of(arguments[0])));
    SoakWatch watch = watch(database, PROGRAM);
    for (int from = Integer.parseInt(arguments[1]); ; from += AT_ONCE) {
      List<Sample> next = Samples.samples(TRACKER, from, from + AT_ONCE);
      watch.accept(next);
      watch.keepNow();
      System.out.println(from + AT_ONCE);
    }
  }
}
