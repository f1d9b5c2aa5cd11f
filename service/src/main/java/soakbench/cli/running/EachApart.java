package soakbench.cli.running;

import java.util.HashSet;
import java.util.Set;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Does work that comes again and again, so that the mistake of one kind never keeps the others from
 * being done: it is logged once, until that kind is done well again. Not thread-safe.
 */
final class EachApart {
  private static final Logger LOG = LoggerFactory.getLogger(EachApart.class);

  private final Set<String> failing = new HashSet<>();

  /**
   * @param what the kind of work, for the log
   */
  void run(String what, Runnable work) {
    try {
      work.run();
      if (failing.remove(what)) {
        LOG.info("{}: looked after again", what);
      }
    } catch (RuntimeException e) {
      if (failing.add(what)) {
        LOG.error("{}: a mistake of the program while time passed; the rest goes on", what, e);
      }
    }
  }
}
