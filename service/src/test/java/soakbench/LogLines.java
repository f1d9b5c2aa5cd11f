package soakbench;

import ch.qos.logback.classic.Logger;
import ch.qos.logback.classic.spi.ILoggingEvent;
import ch.qos.logback.core.read.ListAppender;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import org.slf4j.LoggerFactory;

/** What a part of the program logs while this is open. */
public final class LogLines implements AutoCloseable {
  private final Logger logger;
  private final ListAppender<ILoggingEvent> appender = new ListAppender<>();

  /**
   * @param of name of the loggers: {@code soakbench} for all of the program
   */
  public LogLines(String of) {
    logger = (Logger) LoggerFactory.getLogger(of);
    appender.list = new CopyOnWriteArrayList<>();
    appender.start();
    logger.addAppender(appender);
  }

  public List<String> lines() {
    return appender.list.stream().map(ILoggingEvent::getFormattedMessage).toList();
  }

  @Override
  public void close() {
    logger.detachAppender(appender);
  }
}
