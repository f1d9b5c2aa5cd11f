package soakbench.store.connection;

import java.io.File;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.JarURLConnection;
import java.net.URI;
import java.net.URL;
import java.net.URLConnection;
import java.util.Comparator;
import java.util.List;
import java.util.jar.JarEntry;
import java.util.jar.JarFile;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.flywaydb.core.api.MigrationVersion;

/** The migrations that this program brings along; asked without a database. */
public final class KnownMigrations {
  private static final String FIRST = "/migrations/common/V1__rack_and_recordings.sql";
  private static final Pattern NAME =
      Pattern.compile("(?:migrations/common/)?V([0-9.]+)__\\w+\\.sql");

  private KnownMigrations() {}

  /** The newest of those for every PostgreSQL. */
  public static MigrationVersion newest() {
    try {
      return names()
          .map(NAME::matcher)
          .filter(Matcher::matches)
          .map(name -> MigrationVersion.fromVersion(name.group(1)))
          .max(Comparator.naturalOrder())
          .orElseThrow();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static Stream<String> names() throws IOException {
    URL first = KnownMigrations.class.getResource(FIRST);
    URLConnection connection = first.openConnection();
    if (!(connection instanceof JarURLConnection ours)) {
      return Stream.of(new File(URI.create(first.toString())).getParentFile().list());
    }
    ours.setUseCaches(false);
    try (JarFile jar = ours.getJarFile()) {
      List<String> names = jar.stream().map(JarEntry::getName).toList();
      return names.stream();
    }
  }
}
