package soakbench.api;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.Consumer;
import java.util.regex.Pattern;
import soakbench.api.http.Json;

/** The published description, as tests look into it. */
public final class Described {
  /** All of it. */
  static final JsonNode ALL = read();

  /**
   * What a server refuses before it looks for the call, so that it is told of none in particular.
   */
  private static final Set<Integer> OF_ANY_CALL = Set.of(405, 408, 414, 431);

  private static final List<Call> CALLS = calls(ALL.get("paths"));

  private Described() {}

  /**
   * One call.
   *
   * @param path its address, with the names of its variable parts in braces
   * @param operation what is said of it; {@code parameters} that its path shares are not in it
   * @param parameters its own and those of its path, references followed
   */
  record Call(String method, String path, JsonNode operation, List<JsonNode> parameters) {
    /** The statuses that are described one by one. */
    Set<String> statuses() {
      Set<String> statuses = new TreeSet<>();
      operation.get("responses").fieldNames().forEachRemaining(statuses::add);
      return statuses;
    }

    @Override
    public String toString() {
      return method + " " + path;
    }
  }

  static List<Call> calls() {
    return CALLS;
  }

  /** The call that a request is, if it is one. */
  private static Optional<Call> of(String method, String address) {
    String asked = method.equals("HEAD") ? "GET" : method;
    return CALLS.stream()
        .filter(c -> c.method.equals(asked) && pattern(c.path).matcher(address).matches())
        // An address without variable parts goes first: /api/trackers.csv is no tracker.
        .min((a, b) -> Boolean.compare(a.path.contains("{"), b.path.contains("{")));
  }

  private static Pattern pattern(String path) {
    return Pattern.compile(path.replace(".", "\\.").replaceAll("\\{\\w+}", "[^/]+"));
  }

  /** Makes sure that a refusal is one that the description tells of this call. */
  static void expects(String method, String address, int status) {
    if (status >= 400 && status < 500 && !OF_ANY_CALL.contains(status)) {
      of(method, address)
          .ifPresent(
              call ->
                  assertThat(call.statuses())
                      .as("statuses that openapi.yaml tells of " + call)
                      .contains(String.valueOf(status)));
    }
  }

  /** What a reference leads to; itself where it is none. */
  static JsonNode target(JsonNode node) {
    return node.has("$ref") ? target(ALL.at(node.get("$ref").asText().substring(1))) : node;
  }

  /** Whether it refers to a schema of this name. */
  static boolean refersTo(JsonNode node, String schema) {
    return node.path("$ref").asText().equals("#/components/schemas/" + schema);
  }

  /** What is said of it where it stands, else where it leads to; empty where nothing is. */
  static String words(JsonNode node) {
    return node.has("description")
        ? node.get("description").asText().strip()
        : node.has("$ref") ? words(target(node)) : "";
  }

  /**
   * A member of an object or a parameter of a call.
   *
   * @param where for whoever has to mend it
   */
  record Named(String where, String name, JsonNode schema) {}

  /** The members of all objects, wherever they stand. */
  static List<Named> members() {
    List<Named> members = new ArrayList<>();
    walk("", ALL, (where, node) -> addMembers(where, node, members::add));
    return members;
  }

  private static void addMembers(String where, JsonNode node, Consumer<Named> to) {
    if (node.path("properties").isObject()) {
      node.get("properties")
          .properties()
          .forEach(p -> to.accept(new Named(where + "/" + p.getKey(), p.getKey(), p.getValue())));
    }
  }

  /** Visits every object of the description; what stands in examples is none of its own. */
  static void walk(
      String where, JsonNode node, java.util.function.BiConsumer<String, JsonNode> to) {
    if (node.isObject()) {
      to.accept(where, node);
      for (Map.Entry<String, JsonNode> part : node.properties()) {
        if (!Set.of("example", "examples").contains(part.getKey())) {
          walk(where + "/" + part.getKey(), part.getValue(), to);
        }
      }
    } else {
      for (int i = 0; i < node.size(); i++) {
        walk(where + "/" + i, node.get(i), to);
      }
    }
  }

  private static List<Call> calls(JsonNode paths) {
    List<Call> calls = new ArrayList<>();
    for (Map.Entry<String, JsonNode> path : paths.properties()) {
      for (Map.Entry<String, JsonNode> call : path.getValue().properties()) {
        if (!call.getKey().equals("parameters")) {
          List<JsonNode> parameters = new ArrayList<>();
          path.getValue().path("parameters").forEach(p -> parameters.add(target(p)));
          call.getValue().path("parameters").forEach(p -> parameters.add(target(p)));
          String method = call.getKey().toUpperCase(Locale.ROOT);
          calls.add(new Call(method, path.getKey(), call.getValue(), parameters));
        }
      }
    }
    return calls;
  }

  private static JsonNode read() {
    try {
      return Json.mapper().readTree(OpenApiCalls.json());
    } catch (JsonProcessingException e) {
      throw new AssertionError(e);
    }
  }
}
