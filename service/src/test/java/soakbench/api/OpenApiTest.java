package soakbench.api;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import io.javalin.router.ParsedEndpoint;
import io.swagger.v3.oas.models.OpenAPI;
import io.swagger.v3.oas.models.Operation;
import io.swagger.v3.oas.models.parameters.Parameter;
import io.swagger.v3.parser.OpenAPIV3Parser;
import io.swagger.v3.parser.core.models.ParseOptions;
import io.swagger.v3.parser.core.models.SwaggerParseResult;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import soakbench.api.http.Json;

@ExtendWith(Service.Running.class)
class OpenApiTest {
  /** Answered the same way at every address, so not described one by one. */
  private static final Set<String> EVERYWHERE = Set.of("HEAD", "OPTIONS");

  @Test
  void theDescriptionIsWithoutFault(Service service) {
    ParseOptions resolve = new ParseOptions();
    resolve.setResolve(true);
    for (String form : Set.of("json", "yaml")) {
      String text = service.http.get("/openapi." + form).body();
      SwaggerParseResult result = new OpenAPIV3Parser().readContents(text, null, resolve);
      assertThat(result.getMessages()).as(form).isEmpty();
      assertThat(result.getOpenAPI().getPaths()).as(form).isNotEmpty();
    }
  }

  @Test
  void everyRouteIsDescribedAndEveryDescriptionHasARoute(Service service) {
    Set<String> routed = new TreeSet<>();
    for (ParsedEndpoint parsed : service.server.javalin().unsafe.internalRouter.allHttpHandlers()) {
      String method = parsed.endpoint.method.name();
      if (parsed.endpoint.method.isHttpMethod() && !EVERYWHERE.contains(method)) {
        routed.add(method + " " + parsed.endpoint.path);
      }
    }
    assertThat(described(service)).isEqualTo(routed);
  }

  private static Set<String> described(Service service) {
    JsonNode paths = read(service).get("paths");
    Set<String> described = new TreeSet<>();
    paths
        .properties()
        .forEach(
            path ->
                path.getValue()
                    .properties()
                    .forEach(
                        call -> {
                          if (!call.getKey().equals("parameters")) {
                            described.add(call.getKey().toUpperCase() + " " + path.getKey());
                          }
                        }));
    return described;
  }

  private static JsonNode read(Service service) {
    try {
      return Json.mapper().readTree(service.http.get("/openapi.json").body());
    } catch (com.fasterxml.jackson.core.JsonProcessingException e) {
      throw new AssertionError(e);
    }
  }

  /**
   * The name of a described parameter with a letter too many is refused wherever it is described.
   */
  @Test
  void everyDescribedParameterIsKnownWhereItIsDescribed(Service service) {
    int[] asked = {0};
    OpenAPI api =
        new OpenAPIV3Parser()
            .readContents(service.http.get("/openapi.yaml").body(), null, null)
            .getOpenAPI();
    api.getPaths()
        .forEach(
            (path, item) ->
                item.readOperationsMap()
                    .forEach(
                        (method, call) -> {
                          for (String name : parametersOf(api, call)) {
                            if (!path.equals("/pair")) {
                              assertMisspeltIsRefused(service, method.name(), path, name);
                              asked[0]++;
                            }
                          }
                        }));
    assertThat(asked[0]).isGreaterThan(60);
  }

  private static List<String> parametersOf(OpenAPI api, Operation call) {
    return Stream.ofNullable(call.getParameters())
        .flatMap(List::stream)
        .map(
            p ->
                p.get$ref() == null
                    ? p
                    : api.getComponents()
                        .getParameters()
                        .get(p.get$ref().substring(p.get$ref().lastIndexOf('/') + 1)))
        .filter(p -> p.getIn().equals("query"))
        .map(Parameter::getName)
        .toList();
  }

  private static void assertMisspeltIsRefused(
      Service service, String method, String path, String name) {
    String address = path.replaceAll("\\{\\w+}", "none") + "?" + name + "x=1";
    var answer = service.http.send(method, address, null, "");
    assertThat(answer.statusCode()).as(method + " " + address).isEqualTo(400);
    assertThat(answer.body()).as(method + " " + address).contains("There is no parameter");
  }

  @Test
  void everyAddressAnswersHeadAndNamesItsMethods(Service service) {
    for (ParsedEndpoint parsed : service.server.javalin().unsafe.internalRouter.allHttpHandlers()) {
      if (parsed.endpoint.method.name().equals("OPTIONS")) {
        String path = parsed.endpoint.path.replaceAll("\\{\\w+}", "none");
        var answer = service.http.send("OPTIONS", path, null, "");
        assertThat(answer.statusCode()).as(path).isEqualTo(204);
        assertThat(answer.headers().firstValue("Allow").orElseThrow()).contains("OPTIONS");
      }
    }
  }
}
