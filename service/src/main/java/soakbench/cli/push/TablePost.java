package soakbench.cli.push;

import java.io.IOException;
import java.io.InputStream;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.time.Duration;
import java.util.Set;
import java.util.concurrent.ThreadLocalRandom;
import soakbench.host.Backoff;
import soakbench.host.Deadline;

/** Posts a table, again and again until it is taken, refused, or not wanted any more. */
final class TablePost {
  private static final Duration CONNECT = Duration.ofSeconds(5);
  private static final Duration ANSWER = Duration.ofSeconds(60);
  private static final Duration FIRST_PAUSE = Duration.ofSeconds(1);
  private static final Duration LONGEST_PAUSE = Duration.ofSeconds(30);

  /** It may take them later: too slow, too early, too many, and its own mistakes. */
  private static final Set<Integer> LATER = Set.of(408, 425, 429);

  private final PushTarget target;
  private final Duration firstPause;
  private final HttpClient http =
      HttpClient.newBuilder()
          .version(HttpClient.Version.HTTP_1_1)
          .followRedirects(HttpClient.Redirect.NEVER)
          .connectTimeout(CONNECT)
          .build();

  TablePost(PushTarget target) {
    this(target, FIRST_PAUSE);
  }

  TablePost(PushTarget target, Duration firstPause) {
    this.target = target;
    this.firstPause = firstPause;
  }

  /** It was refused in a way that no repetition mends. */
  static final class RefusedException extends IOException {
    private static final long serialVersionUID = 1L;

    RefusedException(String why) {
      super(why);
    }
  }

  /**
   * Posts it.
   *
   * @param patience for how long it is tried
   * @return how many tries it took
   * @throws IOException in words, if it was not taken
   */
  int send(String table, byte[] csv, Duration patience) throws IOException, InterruptedException {
    Deadline deadline = Deadline.in(patience);
    Backoff pauses = new Backoff(firstPause, LONGEST_PAUSE, ThreadLocalRandom.current());
    for (int tries = 1; ; tries++) {
      try {
        post(table, csv);
        return tries;
      } catch (RefusedException e) {
        throw e;
      } catch (IOException e) {
        if (deadline.isOver()) {
          throw new IOException(why(e) + "; tried " + tries + " times", e);
        }
        Thread.sleep(Math.min(pauses.next().toMillis(), deadline.leftMs()));
      }
    }
  }

  private static String why(IOException e) {
    return e instanceof java.net.ConnectException || e.getMessage() == null
        ? "nobody answers there"
        : e.getMessage();
  }

  private void post(String table, byte[] csv) throws IOException, InterruptedException {
    HttpRequest.Builder request =
        HttpRequest.newBuilder(target.of(table))
            .timeout(ANSWER)
            .header("Content-Type", "text/csv; charset=utf-8")
            .POST(BodyPublishers.ofByteArray(csv));
    if (target.token() != null) {
      request.header("Authorization", "Bearer " + target.token());
    }
    HttpResponse<InputStream> answer = http.send(request.build(), BodyHandlers.ofInputStream());
    // The body may take for ever, and says nothing that is needed.
    answer.body().close();
    judge(answer.statusCode());
  }

  private void judge(int status) throws IOException {
    boolean redirect = status == 302 || status == 303;
    if (status / 100 == 2 || redirect && target.redirectTaken()) {
      return;
    }
    if (redirect) {
      throw new RefusedException(
          "it answered "
              + status
              + ", which leads elsewhere; give --redirect-is-taken if that is how it says that it"
              + " has the table");
    }
    String words = "it answered " + status;
    throw status / 100 == 5 || LATER.contains(status)
        ? new IOException(words)
        : new RefusedException(words + ", and only 2xx says that it has the table");
  }
}
