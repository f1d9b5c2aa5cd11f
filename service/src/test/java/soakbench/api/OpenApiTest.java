package soakbench.api;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import io.javalin.router.ParsedEndpoint;
import io.swagger.v3.parser.OpenAPIV3Parser;
import io.swagger.v3.parser.core.models.ParseOptions;
import io.swagger.v3.parser.core.models.SwaggerParseResult;
import java.util.Set;
import java.util.TreeSet;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;

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
