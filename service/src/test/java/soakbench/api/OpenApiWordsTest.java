package soakbench.api;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import soakbench.api.Described.Named;

/** Everything in the published description says what it is, with its unit. */
class OpenApiWordsTest {
  /** Types alone: whoever refers to them says what it is. */
  private static final Set<String> BARE =
      Set.of("Time", "TimeOrNull", "NumberOrNull", "TextOrNull", "Estimate");

  @Test
  void everyMemberSaysWhatItIs() {
    List<Named> members = Described.members();
    assertThat(members).hasSizeGreaterThan(300);
    assertThat(members).filteredOn(m -> ownWords(m.schema()).isEmpty()).isEmpty();
  }

  /** The words of a type alone are no words about the member. */
  private static String ownWords(JsonNode schema) {
    boolean bare = BARE.stream().anyMatch(type -> Described.refersTo(schema, type));
    return bare ? schema.path("description").asText() : Described.words(schema);
  }

  @Test
  void everySchemaSaysWhatItIs() {
    List<String> silent = new ArrayList<>();
    for (var schema : Described.ALL.at("/components/schemas").properties()) {
      if (!BARE.contains(schema.getKey()) && Described.words(schema.getValue()).isEmpty()) {
        silent.add(schema.getKey());
      }
    }
    Described.walk(
        "",
        Described.ALL,
        (where, node) -> {
          if (where.endsWith("/items") && node.has("properties") && !node.has("description")) {
            silent.add(where);
          }
        });
    assertThat(silent).isEmpty();
  }

  @Test
  void everyCallParameterAnswerAndHeaderSaysWhatItIs() {
    List<String> silent = new ArrayList<>();
    for (Described.Call call : Described.calls()) {
      if (call.operation().path("summary").asText().isEmpty()) {
        silent.add(call.toString());
      }
      for (JsonNode parameter : call.parameters()) {
        if (Described.words(parameter).isEmpty()) {
          silent.add(call + " " + parameter.get("name"));
        }
      }
      for (var answer : call.operation().get("responses").properties()) {
        if (Described.words(answer.getValue()).isEmpty()) {
          silent.add(call + " " + answer.getKey());
        }
        for (var header : Described.target(answer.getValue()).path("headers").properties()) {
          if (Described.words(header.getValue()).isEmpty()) {
            silent.add(call + " " + answer.getKey() + " " + header.getKey());
          }
        }
      }
    }
    assertThat(silent).isEmpty();
  }

  @Test
  void aNameThatEndsInAUnitIsOfThatUnitInItsWords() {
    List<Named> all = new ArrayList<>(Described.members());
    all.addAll(Columns.all());
    Described.calls().forEach(c -> c.parameters().forEach(p -> all.add(parameter(c, p))));
    assertThat(all)
        .filteredOn(m -> !Units.of(m.name()).isEmpty())
        .hasSizeGreaterThan(100)
        .filteredOn(m -> !namesUnit(m.schema(), Units.of(m.name())))
        .isEmpty();
  }

  private static Named parameter(Described.Call call, JsonNode parameter) {
    return new Named(call.toString(), parameter.get("name").asText(), parameter);
  }

  private static boolean namesUnit(JsonNode described, String unit) {
    return described.path("x-unit").asText().equals(unit)
        || standsIn(unit, Described.words(described));
  }

  /** As a word of its own: not the s of "tracker's". */
  private static boolean standsIn(String word, String text) {
    return Pattern.compile("(?<![\\w'/])" + Pattern.quote(word) + "(?![\\w/])")
        .matcher(text)
        .find();
  }

  @Test
  void everyWordThatIsOneOfAFewIsExplained() {
    List<String> unexplained = new ArrayList<>();
    Described.walk(
        "",
        Described.ALL,
        (where, node) -> {
          if (node.path("enum").isArray()) {
            for (JsonNode word : node.get("enum")) {
              if (!word.isNull() && !standsIn(word.asText(), explanation(where, node))) {
                unexplained.add(where + " " + word);
              }
            }
          }
        });
    assertThat(unexplained).isEmpty();
  }

  /** Of a parameter's schema its own words, or the parameter's. */
  private static String explanation(String where, JsonNode node) {
    String own = Described.words(node);
    boolean ofParameter = own.isEmpty() && where.endsWith("/schema");
    return ofParameter
        ? Described.words(Described.ALL.at(where.substring(0, where.lastIndexOf('/'))))
        : own;
  }
}
