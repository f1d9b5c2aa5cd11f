package soakbench.api;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;

/** Every call has examples, and they are what the schemas say. */
class OpenApiExamplesTest {
  /** A form in which something is sent or answered. */
  private record Form(String where, JsonNode media) {
    List<JsonNode> examples() {
      List<JsonNode> values = new ArrayList<>();
      if (media.has("example")) {
        values.add(media.get("example"));
      }
      for (JsonNode example : media.path("examples")) {
        values.add(Described.target(example).path("value"));
      }
      return values;
    }
  }

  @Test
  void whatEveryCallTakesAndAnswersHasAnExample() {
    assertThat(forms())
        .hasSizeGreaterThan(400)
        .filteredOn(form -> form.examples().isEmpty())
        .extracting(Form::where)
        .isEmpty();
  }

  @Test
  void everyExampleIsAsItsSchemaSays() {
    List<String> faults = new ArrayList<>();
    for (Form form : forms()) {
      for (JsonNode value : form.examples()) {
        Schemas.faults(value, form.media().get("schema"))
            .forEach(fault -> faults.add(form.where() + ": " + fault));
      }
    }
    assertThat(faults).isEmpty();
  }

  @Test
  void anExampleThatIsNotAsItsSchemaSaysIsFound() {
    Form upload =
        forms().stream()
            .filter(form -> form.where().equals("POST /api/samples 200 application/json"))
            .findFirst()
            .orElseThrow();
    JsonNode wrong = upload.examples().get(0).deepCopy();
    ((com.fasterxml.jackson.databind.node.ObjectNode) wrong).put("accepted", "two");
    assertThat(Schemas.faults(wrong, upload.media().get("schema"))).isNotEmpty();
  }

  private static List<Form> forms() {
    List<Form> forms = new ArrayList<>();
    for (Described.Call call : Described.calls()) {
      add(forms, call + " takes", call.operation().path("requestBody"));
      for (Map.Entry<String, JsonNode> answer : call.operation().get("responses").properties()) {
        add(forms, call + " " + answer.getKey(), Described.target(answer.getValue()));
      }
    }
    return forms;
  }

  private static void add(List<Form> to, String where, JsonNode sent) {
    for (Map.Entry<String, JsonNode> media : sent.path("content").properties()) {
      to.add(new Form(where + " " + media.getKey(), media.getValue()));
    }
  }
}
