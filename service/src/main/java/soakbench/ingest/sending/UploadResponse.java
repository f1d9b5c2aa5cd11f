package soakbench.ingest.sending;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.net.URI;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import soakbench.live.SampleSink;
import soakbench.live.StoreException;

/**
 * A service's HTTP response to a batch of lines.
 *
 * @param from the service
 * @param text the body
 */
record UploadResponse(URI from, int status, String text) {
  private static final ObjectMapper JSON = new ObjectMapper();
  private static final int LONGEST_REASON = 300;
  private static final int UNAUTHORIZED = 401;
  private static final int FORBIDDEN = 403;
  private static final int NOT_FOUND = 404;
  private static final int TOO_LARGE = 413;
  private static final int INVALID_CONTENT = 422;

  /** Whether the fault lies in these very lines, so that fewer of them may get through. */
  boolean refusesContent() {
    return status == TOO_LARGE || status == INVALID_CONTENT;
  }

  /**
   * What became of each line; empty where more were refused than the answer names.
   *
   * @param lines how many were sent
   * @throws StoreException if the answer does not acknowledge them
   */
  Optional<Destination.Receipt> receipt(int lines) {
    if (status / 100 != 2) {
      throw new StoreException(
          from + " answered " + status + ": " + reason() + advice(), null, true);
    }
    JsonNode answer = json();
    int rejected = answer.path("rejected").asInt(-1);
    int accepted = answer.path("accepted").asInt(-1);
    int duplicate = answer.path("duplicate").asInt(-1);
    int conflicting = answer.path("conflicting").asInt(-1);
    boolean complete =
        Math.min(Math.min(rejected, accepted), Math.min(duplicate, conflicting)) >= 0;
    if (!complete || rejected + accepted + duplicate + conflicting != lines) {
      throw new StoreException(
          from
              + " answered "
              + status
              + ", but not for the "
              + lines
              + " samples that were sent; is that the service's address?",
          null,
          true);
    }
    List<Destination.Refusal> refused = refused(answer, lines);
    return refused.size() == rejected
        ? Optional.of(
            new Destination.Receipt(
                new SampleSink.Outcome(accepted, duplicate, conflicting), refused))
        : Optional.empty();
  }

  private static List<Destination.Refusal> refused(JsonNode answer, int lines) {
    List<Destination.Refusal> refused = new ArrayList<>();
    for (JsonNode problem : answer.path("problems")) {
      int line = problem.path("line").asInt(0);
      if (line >= 1 && line <= lines) {
        refused.add(
            new Destination.Refusal(
                line - 1,
                problem.path("reason").asText("no reason"),
                problem.path("elsewhere").asBoolean()));
      }
    }
    return refused;
  }

  /** What the service gave as its reason, one line. */
  String reason() {
    JsonNode detail = json().path("detail");
    String words = detail.isTextual() ? detail.asText() : text;
    String line = words.lines().findFirst().orElse("no reason given").strip();
    return line.length() > LONGEST_REASON ? line.substring(0, LONGEST_REASON) + "…" : line;
  }

  private String advice() {
    return switch (status) {
      case UNAUTHORIZED, FORBIDDEN -> " Check --token-file.";
      case NOT_FOUND -> " Check the address given with --to.";
      default -> "";
    };
  }

  private JsonNode json() {
    try {
      JsonNode node = JSON.readTree(text);
      return node == null ? JSON.missingNode() : node;
    } catch (JsonProcessingException e) {
      // Not a service of ours; the caller says so with the beginning of the text.
      return JSON.missingNode();
    }
  }
}
