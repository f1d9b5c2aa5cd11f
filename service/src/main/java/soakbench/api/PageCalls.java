package soakbench.api;

import io.javalin.config.JavalinConfig;
import io.javalin.http.Context;
import io.javalin.http.staticfiles.Location;
import java.io.IOException;
import java.io.InputStream;
import java.util.Map;
import java.util.Properties;
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
    try (InputStream in = PageCalls.class.getResourceAsStream(CHARTS_BUILD)) {
      if (in == null) {
        throw new IllegalStateException(CHARTS_BUILD + " was not built into the program");
      }
      Properties build = new Properties();
      build.load(in);
      return build.getProperty("version");
    } catch (IOException e) {
      throw new IllegalStateException("cannot read " + CHARTS_BUILD, e);
    }
  }

  static void secure(Context ctx) {
    SecurityHeaders.each((name, value) -> ctx.header(name, value));
  }
}
