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
 * Sends to one tracker what its settings say, on a thread of its own, so that a device that takes
 * nothing holds up nobody. Without settings it sends nothing and has no thread. For any thread.
 */
public final class Asker implements AutoCloseable {
  private static final Logger LOG = LoggerFactory.getLogger(Asker.class);

  /** Takes bytes to the device; may wait, and fails where it can't. */
  @FunctionalInterface
  public interface Sink {
    void send(byte[] bytes) throws IOException;
  }

  private final AskSettings settings;
  private final String label;
  private final Sink sink;
  private final ScheduledExecutorService sender;
  private final Set<String> told = new HashSet<>();
  private volatile String sent = "";
  private ScheduledFuture<?> repeating;

  /**
   * @param label what the source is called in messages
   */
  public Asker(AskSettings settings, String label, Sink sink) {
    this.settings = settings;
    this.label = label;
    this.sink = sink;
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
        sink.send(settings.bytes(text));
        sent = shown(text);
        tell("sent \"" + sent + "\"");
      }
    } catch (IOException e) {
      tell("could not send \"" + shown(texts.get(0)) + "\": " + e.getMessage());
    }
  }

  /** Each thing once: what is sent every second must not fill the log. */
  private void tell(String what) {
    if (told.add(what)) {
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
