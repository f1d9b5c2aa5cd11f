package soakbench.api;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import soakbench.api.Described.Named;

/**
 * The same name means the same wherever it stands. What it means is told up to the first full stop,
 * semicolon or colon of its words; what follows is about this place.
 */
class OpenApiNamesTest {
  /** Numbers with or without what is known of them: in one place a figure, in another its mean. */
  private static final Set<String> QUANTITIES = Set.of("Estimate", "Channel", "Extent");

  /** Names with more than one meaning, and why they stay. */
  private static final Map<String, String> TWO_MEANINGS =
      Map.ofEntries(
          Map.entry("order", "a place among trackers, and the highest power of a curve"),
          Map.entry("soaks", "a list, and among counts their number"),
          Map.entry("samples", "a list, and in a soak their number"),
          Map.entry("status", "of a problem document by RFC 9457 its number; elsewhere a word"),
          Map.entry("figures", "a list, one soak's figures, and how their deriving goes"),
          Map.entry("blocks", "half-minutes of a fit, and what lots were measured in"),
          Map.entry("by", "who has seen an alarm, and in what lots were measured"),
          Map.entry("difference", "of two soaks of one unit, and of two lots"),
          Map.entry("power", "what feeds a tracker, and how often a test sees what is there"),
          Map.entry("sd", "of readings, and of a lot's units without the error of measuring"),
          Map.entry("figure", "its name in a table, and in what changed its words"),
          Map.entry("verdict", "on a calibration, and on a unit of a lot"));

  /** Names of one meaning and two types. */
  private static final Map<String, String> TWO_TYPES =
      Map.of(
          "advice", "of one thing a sentence, of a comparison several",
          "was", "in the type of what became other",
          "is", "in the type of what became other",
          "trackers", "what there is to say of each, or their ids alone");

  @Test
  void aNameHasOneMeaningAlsoAsAColumn() {
    List<Named> all = new ArrayList<>(Described.members());
    all.addAll(Columns.all());
    assertThat(withSeveral(all, m -> meaning(m.schema()), Set.of())).isEqualTo(Map.of());
  }

  @Test
  void aNameHasOneType() {
    assertThat(withSeveral(Described.members(), m -> type(m.schema()), TWO_TYPES.keySet()))
        .isEqualTo(Map.of());
  }

  @Test
  void everyExceptionIsStillOne() {
    assertThat(TWO_MEANINGS.keySet())
        .allSatisfy(
            name ->
                assertThat(
                        Described.members().stream()
                            .filter(m -> m.name().equals(name))
                            .map(m -> meaning(m.schema()))
                            .distinct())
                    .as(name)
                    .hasSizeGreaterThan(1));
  }

  private static Map<String, Set<String>> withSeveral(
      List<Named> all, Function<Named, String> of, Set<String> but) {
    return all.stream()
        .filter(m -> !TWO_MEANINGS.containsKey(m.name()) && !but.contains(m.name()))
        .filter(m -> !type(m.schema()).equals("nothing"))
        .collect(
            Collectors.groupingBy(
                Named::name,
                TreeMap::new,
                Collectors.mapping(of, Collectors.toCollection(TreeSet::new))))
        .entrySet()
        .stream()
        .filter(e -> e.getValue().size() > 1)
        .collect(Collectors.toMap(Map.Entry::getKey, Map.Entry::getValue));
  }

  private static String meaning(JsonNode schema) {
    return Described.words(schema).split("[.;:](?=\\s|$)", 2)[0].replaceAll("\\s+", " ");
  }

  /** Its kind; that it may be null is told in its words. */
  private static String type(JsonNode schema) {
    if (QUANTITIES.stream().anyMatch(name -> Described.refersTo(schema, name))) {
      return "quantity";
    }
    JsonNode of = Described.target(schema);
    for (String choice : Set.of("oneOf", "anyOf")) {
      if (of.has(choice)) {
        Set<String> types = new TreeSet<>();
        of.get(choice).forEach(one -> types.add(type(one)));
        types.remove("nothing");
        return String.join(" or ", types);
      }
    }
    String type = plainType(of);
    return switch (type) {
      case "number", "integer" -> "quantity";
      case "array" -> ofArray(of.get("items"));
      case "string" -> of.path("format").asText().equals("date-time") ? "time" : "text";
      default -> type;
    };
  }

  /** Three numbers are one quantity of three axes. */
  private static String ofArray(JsonNode items) {
    return type(items).equals("quantity") ? "quantity" : "list of " + type(items);
  }

  private static String plainType(JsonNode of) {
    JsonNode type = of.path("type");
    if (type.isArray()) {
      return type.get(0).asText().equals("null") ? type.get(1).asText() : type.get(0).asText();
    }
    return of.has("enum") && type.isMissingNode()
        ? "string"
        : type.asText().equals("null") ? "nothing" : type.asText();
  }
}
