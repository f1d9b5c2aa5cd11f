package soakbench.api;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.networknt.schema.Error;
import com.networknt.schema.InputFormat;
import com.networknt.schema.Schema;
import com.networknt.schema.SchemaLocation;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SchemaRegistryConfig;
import com.networknt.schema.dialect.Dialect;
import com.networknt.schema.dialect.Dialects;
import com.networknt.schema.keyword.NonValidationKeyword;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import soakbench.api.http.Json;

/** The schemas of the published description. */
public final class Schemas {
  private static final String ADDRESS = "https://soakbench.invalid/openapi.json";
  private static final SchemaRegistry REGISTRY =
      SchemaRegistry.withDialect(
          Dialect.builder(Dialects.getOpenApi31())
              .keyword(new NonValidationKeyword("x-unit"))
              .build(),
          builder ->
              builder
                  .schemaRegistryConfig(
                      SchemaRegistryConfig.builder().formatAssertionsEnabled(true).build())
                  .schemas(Map.of(ADDRESS, definitions())));
  private static final Map<String, Schema> KNOWN = new ConcurrentHashMap<>();

  private Schemas() {}

  /** The schemas without the rest of the description, which is no schema itself. */
  private static String definitions() {
    try {
      JsonNode all = Json.mapper().readTree(OpenApiCalls.json());
      return Json.write(Map.of("$defs", all.at("/components/schemas")))
          .replace("#/components/schemas/", "#/$defs/");
    } catch (JsonProcessingException e) {
      throw new AssertionError(e);
    }
  }

  /** What is wrong with a value by a schema that stands somewhere in the description. */
  static List<Error> faults(JsonNode value, JsonNode schema) {
    String own = Json.write(schema).replace("#/components/schemas/", ADDRESS + "#/$defs/");
    return REGISTRY.getSchema(own, InputFormat.JSON).validate(Json.write(value), InputFormat.JSON);
  }

  /** The parsed text, after it was found valid. */
  public static JsonNode valid(String json, String schema) {
    Schema known =
        KNOWN.computeIfAbsent(
            schema, name -> REGISTRY.getSchema(SchemaLocation.of(ADDRESS + "#/$defs/" + name)));
    assertThat(known.validate(json, InputFormat.JSON)).as(json).isEmpty();
    try {
      return Json.mapper().readTree(json);
    } catch (JsonProcessingException e) {
      throw new AssertionError(json, e);
    }
  }
}
