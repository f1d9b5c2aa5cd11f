package soakbench;

import java.time.Duration;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.extension.BeforeAllCallback;
import org.junit.jupiter.api.extension.ExtensionContext;

/**
 * Whoever waits for something looks again after a few milliseconds at first, and ten times a second
 * in the end: most waits are short, and a tenth of a second each was minutes of all tests. JUnit
 * finds it by {@code META-INF/services}.
 */
public final class QuickLooks implements BeforeAllCallback {
  private static final Duration FIRST = Duration.ofMillis(4);
  private static final Duration LAST = Duration.ofMillis(100);

  @Override
  public void beforeAll(ExtensionContext context) {
    Awaitility.setDefaultPollDelay(FIRST);
    Awaitility.setDefaultPollInterval((looks, before) -> next(before));
  }

  private static Duration next(Duration before) {
    Duration longer = before.multipliedBy(3).dividedBy(2);
    return longer.compareTo(LAST) < 0 ? longer : LAST;
  }
}
