package soakbench.api;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.stream.Collectors;
import org.yaml.snakeyaml.LoaderOptions;
import org.yaml.snakeyaml.Yaml;
import org.yaml.snakeyaml.constructor.SafeConstructor;
import soakbench.api.http.Json;
import soakbench.api.http.Routes;

/** The description of all calls. */
public final class OpenApiCalls {
  /** The second is the last part of the document: its examples, which are long. */
  private static final List<String> RESOURCES = List.of("/openapi.yaml", "/openapi-examples.yaml");

  /** Read when somebody asks for it: that takes as long as the rest of a service's start. */
  private static final class Description {
    static final String YAML = read();
    static final String JSON = toJson(YAML);
  }

  /** The description as JSON. */
  public static String json() {
    return Description.JSON;
  }

  void addTo(Routes routes) {
    routes
        .get("/openapi.yaml", ctx -> ctx.result(Description.YAML).contentType("application/yaml"))
        .get("/openapi.json", ctx -> ctx.result(json()).contentType("application/json"));
  }

  private static String read() {
    return RESOURCES.stream().map(OpenApiCalls::read).collect(Collectors.joining());
  }

  private static String read(String resource) {
    try (InputStream in = OpenApiCalls.class.getResourceAsStream(resource)) {
      return new String(in.readAllBytes(), StandardCharsets.UTF_8);
    } catch (IOException e) {
      throw new IllegalStateException("cannot read " + resource, e);
    }
  }

  /** Repeated parts are written out: JSON has no way to refer to them. */
  private static String toJson(String yaml) {
    return Json.write(new Yaml(new SafeConstructor(new LoaderOptions())).<Object>load(yaml));
  }
}
