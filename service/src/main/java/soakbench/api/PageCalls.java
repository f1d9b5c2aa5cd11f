package soakbench.api;

import io.javalin.config.JavalinConfig;
import io.javalin.http.Context;
import io.javalin.http.staticfiles.Location;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.util.Map;
import java.util.Properties;
import soakbench.api.http.Routes;
import soakbench.api.http.SecurityHeaders;

/** The pages, and the chart library that they use, from what was built into the program. */
final class PageCalls {
  private static final String CHARTS_BUILD = "/META-INF/maven/org.webjars.npm/uplot/pom.properties";

  private PageCalls() {}

  /**
   * Serves the pages at the root and the chart library, whatever its version, under /lib/uplot/.
   */
  static void addTo(JavalinConfig config) {
    add(config, "/", "/dashboards");
    add(config, "/lib/uplot", "/META-INF/resources/webjars/uplot/" + chartsVersion());
  }

  /** The pages that have an address of their own; what they are about stands in it. */
  static void addTo(Routes routes) {
    page(routes, "/ports", "/dashboards/ports/index.html");
    page(routes, "/tracker/{id}", "/dashboards/tracker/index.html");
    page(routes, "/soak/{soak}/report", "/dashboards/report/index.html");
  }

  private static void page(Routes routes, String path, String resource) {
    byte[] page = read(resource);
    routes.get(
        path,
        ctx ->
            ctx.result(page)
                .contentType("text/html; charset=utf-8")
                .header("Cache-Control", "no-cache"));
  }

  private static byte[] read(String resource) {
    try (InputStream in = PageCalls.class.getResourceAsStream(resource)) {
      if (in == null) {
        throw new IllegalStateException(resource + " was not built into the program");
      }
      return in.readAllBytes();
    } catch (IOException e) {
      throw new IllegalStateException("cannot read " + resource, e);
    }
  }

  private static void add(JavalinConfig config, String path, String directory) {
    config.staticFiles.add(
        files -> {
          files.hostedPath = path;
          files.directory = directory;
          files.location = Location.CLASSPATH;
          files.headers = Map.of("Cache-Control", "no-cache");
        });
  }

  private static String chartsVersion() {
    Properties build = new Properties();
    try {
      build.load(new ByteArrayInputStream(read(CHARTS_BUILD)));
    } catch (IOException e) {
      throw new IllegalStateException("cannot read " + CHARTS_BUILD, e);
    }
    return build.getProperty("version");
  }

  static void secure(Context ctx) {
    SecurityHeaders.each((name, value) -> ctx.header(name, value));
  }
}
