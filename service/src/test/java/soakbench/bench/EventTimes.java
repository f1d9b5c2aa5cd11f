package soakbench.bench;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import soakbench.cli.options.CommandException;

/**
 * Reads a service's events and holds the moment at which each was read against the moments at which
 * lines were written.
 */
final class EventTimes {
  /** A second is judged when the one after it closes, which a sample two seconds newer does. */
  private static final int DECIDED_BY_S = 3;

  private final TimedRack rack;
  private final ObjectMapper json = new ObjectMapper();
  private final Map<String, Long> toldBefore = new HashMap<>();
  final List<Double> decidedToFiguresMs = new ArrayList<>();
  final List<Double> decidedToChangeMs = new ArrayList<>();
  final List<Double> endToFiguresMs = new ArrayList<>();
  final List<Double> lineToFiguresMs = new ArrayList<>();

  EventTimes(TimedRack rack) {
    this.rack = rack;
  }

  /**
   * Reads events until a moment, by {@link System#nanoTime}; those of the first seconds count not.
   */
  void read(URI url, long fromNs, long untilNs) throws IOException, InterruptedException {
    HttpRequest ask =
        HttpRequest.newBuilder(url.resolve("/api/events"))
            .header("Accept", "text/event-stream")
            .build();
    HttpResponse<java.io.InputStream> answer =
        HttpClient.newHttpClient().send(ask, HttpResponse.BodyHandlers.ofInputStream());
    try (BufferedReader lines =
        new BufferedReader(new InputStreamReader(answer.body(), StandardCharsets.UTF_8))) {
      String event = "";
      for (String line = lines.readLine(); line != null; line = lines.readLine()) {
        long nowNs = System.nanoTime();
        if (nowNs > untilNs) {
          return;
        }
        if (line.startsWith("event: ")) {
          event = line.substring("event: ".length());
        } else if (line.startsWith("data: ") && nowNs > fromNs) {
          took(event, line.substring("data: ".length()), nowNs);
        }
      }
    }
    throw new CommandException("the service ended its events");
  }

  private void took(String event, String data, long nowNs) {
    if (event.equals("ended")) {
      return;
    }
    for (JsonNode verdict : tree(data).get("trackers")) {
      String tracker = verdict.get("tracker").asText();
      long second = lastJudged(verdict.get("as_of").asText());
      LineTimes written = rack.times(tracker);
      if (event.equals("readiness")) {
        since(first(written, second + DECIDED_BY_S), nowNs, decidedToChangeMs);
        continue;
      }
      long from = toldBefore.getOrDefault(tracker, second - 1) + 1;
      toldBefore.put(tracker, second);
      for (long each = from; each <= second; each++) {
        since(first(written, each + DECIDED_BY_S), nowNs, decidedToFiguresMs);
        since(first(written, each + 1), nowNs, endToFiguresMs);
        since(written.of(each), nowNs, lineToFiguresMs);
      }
    }
  }

  /** A verdict is as of the end of its last second. */
  private static long lastJudged(String asOf) {
    return Instant.parse(asOf).minusNanos(1).getEpochSecond();
  }

  private JsonNode tree(String data) {
    try {
      return json.readTree(data);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static List<Long> first(LineTimes written, long second) {
    List<Long> all = written.of(second);
    return all.isEmpty() ? all : all.subList(0, 1);
  }

  private static void since(List<Long> writtenNs, long nowNs, List<Double> ms) {
    writtenNs.forEach(ns -> ms.add((nowNs - ns) / 1e6));
  }
}
