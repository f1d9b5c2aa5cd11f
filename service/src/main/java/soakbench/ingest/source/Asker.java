package soakbench.ingest.source;

import java.io.IOException;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.concurrent.Executors;
import java.util.concurrent.RejectedExecutionException;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.ScheduledFuture;
import java.util.concurrent.TimeUnit;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.host.Daemons;
import soakbench.ingest.rackfile.AskSettings;

/**
 * Sends the configured requests to one tracker, on a thread of its own, so that a device that reads
 * nothing blocks nobody. Without settings it sends nothing and has no thread. Thread-safe.
 */
public final class Asker implements AutoCloseable {
  private static final Logger LOG = LoggerFactory.getLogger(Asker.class);

  /** Writes bytes to the device; may block, and fails where it can't. */
  @FunctionalInterface
  public interface Output {
    void send(byte[] bytes) throws IOException;
  }

  private final AskSettings settings;
  private final String label;
  private final Output output;
  private final ScheduledExecutorService sender;
  private final Set<String> logged = new HashSet<>();
  private volatile String sent = "";
  private ScheduledFuture<?> repeating;

  /**
   * @param label what the source is called in messages
   */
  public Asker(AskSettings settings, String label, Output output) {
    this.settings = settings;
    this.label = label;
    this.output = output;
    this.sender =
        settings.isNothing()
            ? null
            : Executors.newSingleThreadScheduledExecutor(Daemons.named("asking " + label));
  }

  /** The port or connection is open: asks, and goes on asking where that is set. */
  public synchronized void opened() {
    if (sender == null || sender.isShutdown()) {
      return;
    }
    stopRepeating();
    send(settings.afterOpen());
    int everyS = settings.everyS();
    if (everyS > 0) {
      Runnable again = () -> send(settings.afterOpen());
      repeating = sender.scheduleWithFixedDelay(again, everyS, everyS, TimeUnit.SECONDS);
    }
  }

  /** The tracker has rebooted. */
  public void rebooted() {
    if (sender != null) {
      send(settings.afterBoot());
    }
  }

  /** The port or connection is gone. */
  public synchronized void closed() {
    stopRepeating();
  }

  private void stopRepeating() {
    if (repeating != null) {
      repeating.cancel(false);
      repeating = null;
    }
  }

  private void send(List<String> texts) {
    if (texts.isEmpty()) {
      return;
    }
    try {
      sender.execute(() -> sendNow(texts));
    } catch (RejectedExecutionException e) {
      LOG.debug("{}: closed before it was asked", label);
    }
  }

  private void sendNow(List<String> texts) {
    try {
      for (String text : texts) {
        output.send(settings.bytes(text));
        sent = shown(text);
        logOnce("sent \"" + sent + "\"");
      }
    } catch (IOException e) {
      logOnce("could not send \"" + shown(texts.get(0)) + "\": " + e.getMessage());
    }
  }

  /** Each message once: what is sent every second must not fill the log. */
  private void logOnce(String what) {
    if (logged.add(what)) {
      LOG.info("{}: {}", label, what);
    }
  }

  private static String shown(String text) {
    StringBuilder shown = new StringBuilder();
    text.chars()
        .forEach(c -> shown.append(c < ' ' || c == 127 ? "\\x%02x".formatted(c) : (char) c + ""));
    return shown.toString();
  }

  /** The newest text that was sent, control characters written out; empty before. */
  public String sent() {
    return sent;
  }

  /** Sends nothing more; what the device doesn't take ends with the port. */
  @Override
  public synchronized void close() {
    stopRepeating();
    if (sender != null) {
      sender.shutdownNow();
    }
  }
}
