package soakbench;

import static org.awaitility.Awaitility.await;

import java.time.Instant;

/** The page of one tracker, opened in a browser on a service of its own. */
abstract class OnATrackerPage extends OnABoard {
  static final Instant START = RunningService.START;
  static final String ID = "Page-1";

  void open(String id) {
    chromium.complaints();
    chromium.driver().get(service.url() + "tracker/" + id);
  }

  static void awaitFigures() {
    await()
        .atMost(PATIENCE)
        .until(() -> workedOut("heading") && workedOut("bias") && drawn("story first") > 0);
  }

  private static boolean workedOut(String figure) {
    String sentence = chromium.text("#" + figure + " .sentence");
    return !sentence.isEmpty() && !sentence.startsWith("Not known yet: the service works it out");
  }

  /**
   * How long a drawing took, ms, as the page told the browser's own timeline; 0 while it was not.
   */
  static double drawn(String name) {
    return chromium.<Number>ask(measure(name, "duration")).doubleValue();
  }

  static String measure(String name, String part) {
    return "Number(performance.getEntriesByName('%s')[0]?.%s ?? 0)".formatted(name, part);
  }
}
