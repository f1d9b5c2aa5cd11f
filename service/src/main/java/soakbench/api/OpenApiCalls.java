package soakbench.api;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import org.yaml.snakeyaml.LoaderOptions;
import org.yaml.snakeyaml.Yaml;
import org.yaml.snakeyaml.constructor.SafeConstructor;
import soakbench.api.http.Json;
import soakbench.api.http.Routes;

/** The description of all calls. */
public final class OpenApiCalls {
  private static final String RESOURCE = "/openapi.yaml";

  /** The description as JSON. */
  public static String json() {
    return toJson(read());
  }

  void addTo(Routes routes) {
    String yaml = read();
    String json = toJson(yaml);
    routes
        .get("/openapi.yaml", ctx -> ctx.result(yaml).contentType("application/yaml"))
        .get("/openapi.json", ctx -> ctx.result(json).contentType("application/json"));
  }

  private static String read() {
    try (InputStream in = OpenApiCalls.class.getResourceAsStream(RESOURCE)) {
      return new String(in.readAllBytes(), StandardCharsets.UTF_8);
    } catch (IOException e) {
      throw new IllegalStateException("cannot read " + RESOURCE, e);
    }
  }

  /** Repeated parts are written out: JSON has no way to refer to them. */
  private static String toJson(String yaml) {
    return Json.write(new Yaml(new SafeConstructor(new LoaderOptions())).<Object>load(yaml));
  }
}
