package soakbench.api;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Function;
import java.util.function.Predicate;
import java.util.stream.Stream;
import soakbench.api.Described.Call;

/** Compares what calls refuse with what the description tells of them. */
final class Refusals {
  private static final HttpClient CLIENT = HttpClient.newHttpClient();

  private Refusals() {}

  /**
   * Makes sure that just those calls give a status that it is told of.
   *
   * @param tried what may bring it about; one is enough
   */
  static void check(int status, Function<Call, Stream<HttpRequest.Builder>> tried) {
    checkAnswered(status, call -> tried.apply(call).anyMatch(r -> gives(status, r)));
  }

  /** The same of calls that are asked in another way. */
  static void checkAnswered(int status, Predicate<Call> given) {
    List<String> untold = new ArrayList<>();
    List<String> neverGiven = new ArrayList<>();
    for (Call call : Described.calls()) {
      boolean told = call.statuses().contains(String.valueOf(status));
      if (given.test(call) != told) {
        (told ? neverGiven : untold).add(call.toString());
      }
    }
    assertThat(untold).as(status + " is given and not told of").isEmpty();
    assertThat(neverGiven).as(status + " is told of and not given").isEmpty();
  }

  /** Whether a request is answered so; what is a stream is not waited for. */
  static boolean gives(int status, HttpRequest.Builder asked) {
    HttpRequest request = asked.build();
    try {
      HttpResponse<InputStream> answer = CLIENT.send(request, BodyHandlers.ofInputStream());
      answer.body().close();
      return answer.statusCode() == status;
    } catch (IOException e) {
      throw new UncheckedIOException(request.toString(), e);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new IllegalStateException(e);
    }
  }
}
