package soakbench.api.alarms;

import java.io.IOException;
import java.io.InputStream;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.time.Duration;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.ThreadLocalRandom;
import java.util.function.Supplier;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.api.http.Json;
import soakbench.api.http.TrackerNames;
import soakbench.host.Backoff;
import soakbench.host.Daemons;
import soakbench.host.Deadline;
import soakbench.live.alarm.AlarmListener;
import soakbench.model.Alarm;

/**
 * A webhook: posts each change of an alarm to an address of the user's, as {@code
 * {"change":…,"alarm":…}}, one after another on a thread of its own. One that is not accepted is
 * retried for {@link #PATIENCE} at most, then given up; where too many wait, new ones are left out.
 * Redirects are not followed.
 */
public final class AlarmWebhook implements AlarmListener, AutoCloseable {
  /** For so long one alarm is tried. */
  public static final Duration PATIENCE = Duration.ofMinutes(10);

  private static final Logger LOG = LoggerFactory.getLogger(AlarmWebhook.class);
  private static final int MOST_WAITING = 1_000;
  private static final Duration CONNECT = Duration.ofSeconds(5);
  private static final Duration ANSWER = Duration.ofSeconds(10);
  private static final Duration FIRST_PAUSE = Duration.ofMillis(500);
  private static final Duration LONGEST_PAUSE = Duration.ofSeconds(30);

  private record Body(Change change, Object alarm) {}

  private record Entry(Change change, Alarm alarm) {}

  private final URI url;
  private final Supplier<String> token;
  private final Duration answer;
  private final Duration patience;
  private final BlockingQueue<Entry> waiting = new ArrayBlockingQueue<>(MOST_WAITING);
  private final Thread thread = Daemons.thread("alarms to address", this::run);
  private final HttpClient http =
      HttpClient.newBuilder()
          .version(HttpClient.Version.HTTP_1_1)
          .followRedirects(HttpClient.Redirect.NEVER)
          .connectTimeout(CONNECT)
          .build();
  private volatile TrackerNames names = new TrackerNames(java.util.List::of);
  private volatile boolean full;
  private boolean failing;

  /**
   * @param url http or https
   * @param token asked before each request; gives null for none
   */
  public AlarmWebhook(URI url, Supplier<String> token) {
    this(url, token, ANSWER, PATIENCE);
  }

  AlarmWebhook(URI url, Supplier<String> token, Duration answer, Duration patience) {
    this.url = url;
    this.token = token;
    this.answer = answer;
    this.patience = patience;
    thread.start();
  }

  public void nameBy(TrackerNames roster) {
    names = roster;
  }

  @Override
  public void changed(Change change, Alarm alarm) {
    if (change == Change.REMINDED) {
      return;
    }
    boolean taken = waiting.offer(new Entry(change, alarm));
    if (!taken && !full) {
      LOG.error("{} alarms wait for {}; more are left out until it takes them", MOST_WAITING, url);
    }
    full = !taken;
  }

  private void run() {
    try {
      while (!Thread.currentThread().isInterrupted()) {
        deliver(waiting.take());
      }
    } catch (InterruptedException e) {
      LOG.debug("interrupted while alarms were posted", e);
    }
  }

  private void deliver(Entry entry) throws InterruptedException {
    Deadline deadline = Deadline.in(patience);
    Backoff pauses = new Backoff(FIRST_PAUSE, LONGEST_PAUSE, ThreadLocalRandom.current());
    try {
      while (!isTaken(entry, deadline)) {
        Thread.sleep(Math.min(pauses.next().toMillis(), deadline.leftMs()));
      }
    } catch (RuntimeException e) {
      LOG.error("alarm {} could not be posted by a fault of this program", entry.alarm().id(), e);
    }
  }

  /** Whether it was posted, or given up. */
  private boolean isTaken(Entry entry, Deadline deadline) throws InterruptedException {
    try {
      post(entry);
      if (failing) {
        failing = false;
        LOG.info("alarms reach {} again", url);
      }
      return true;
    } catch (IOException e) {
      logFailing(e);
      boolean givenUp = deadline.isOver();
      if (givenUp) {
        LOG.error(
            "alarm {} was not taken by {} in {} and is given up: {}",
            entry.alarm().id(),
            url,
            patience,
            e.getMessage());
      }
      return givenUp;
    }
  }

  private void post(Entry entry) throws IOException, InterruptedException {
    String json = Json.write(new Body(entry.change(), AlarmTable.of(names).json(entry.alarm())));
    HttpRequest.Builder request =
        HttpRequest.newBuilder(url)
            .timeout(answer)
            .header("Content-Type", "application/json")
            .POST(HttpRequest.BodyPublishers.ofString(json));
    String secret = token.get();
    if (secret != null) {
      request.header("Authorization", "Bearer " + secret);
    }
    HttpResponse<InputStream> response =
        http.send(request.build(), HttpResponse.BodyHandlers.ofInputStream());
    // The body may take for ever, and says nothing that is needed.
    response.body().close();
    int status = response.statusCode();
    if (status < 200 || status > 299) {
      throw new IOException("it answered " + status + ", and only 2xx says that it has it");
    }
  }

  /** Once, until it works again. */
  private void logFailing(Throwable why) {
    if (!failing) {
      failing = true;
      String reason = why.getMessage() == null ? why.toString() : why.getMessage();
      LOG.warn("alarms don't reach {} now and are tried again: {}", url, reason);
    }
  }

  /** Ends at once; what waits is not sent. */
  @Override
  public void close() {
    thread.interrupt();
    try {
      thread.join();
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }
}
