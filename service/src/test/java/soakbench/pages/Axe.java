package soakbench.pages;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Map;
import java.util.Properties;
import soakbench.Chromium;

/**
 * What people who see, hear or move otherwise can't use of a page, by the rules of axe-core. It is
 * given to the page by the driver, so that no page has to allow foreign scripts.
 */
final class Axe {
  private static final String BUILD = "/META-INF/maven/org.webjars.npm/axe-core/pom.properties";
  private static final String SCRIPT = script();

  private static final String RUN =
      "const done = arguments[arguments.length - 1];"
          + "axe.run(document, arguments[0]).then(found => done(found.violations"
          + ".filter(v => ['serious', 'critical'].includes(v.impact))"
          + ".map(v => v.id + ': ' + v.nodes.map(n => n.html).join(' | '))))";

  private Axe() {}

  /** What is serious or worse of the page that is open, a line a rule. */
  static List<String> serious(Chromium chromium) {
    return run(chromium, Map.of("resultTypes", List.of("violations")));
  }

  /** The same of what colours alone can spoil. */
  static List<String> seriousOfColours(Chromium chromium) {
    return run(
        chromium,
        Map.of("resultTypes", List.of("violations"), "runOnly", List.of("color-contrast")));
  }

  @SuppressWarnings("unchecked")
  private static List<String> run(Chromium chromium, Map<String, Object> options) {
    if (chromium.<Boolean>ask("typeof axe === 'undefined'")) {
      chromium.driver().executeScript(SCRIPT);
    }
    return (List<String>) chromium.driver().executeAsyncScript(RUN, options);
  }

  private static String script() {
    Properties build = new Properties();
    try (InputStream in = Axe.class.getResourceAsStream(BUILD)) {
      build.load(in);
      String version = build.getProperty("version");
      String path = "/META-INF/resources/webjars/axe-core/" + version + "/axe.min.js";
      try (InputStream script = Axe.class.getResourceAsStream(path)) {
        return new String(script.readAllBytes(), StandardCharsets.UTF_8);
      }
    } catch (IOException e) {
      throw new IllegalStateException("cannot read axe-core", e);
    }
  }
}
