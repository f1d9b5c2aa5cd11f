package soakbench;

import static com.tngtech.archunit.base.DescribedPredicate.not;
import static com.tngtech.archunit.core.domain.JavaClass.Predicates.equivalentTo;
import static com.tngtech.archunit.core.domain.JavaClass.Predicates.resideInAnyPackage;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static com.tngtech.archunit.library.dependencies.SlicesRuleDefinition.slices;
import static org.assertj.core.api.Assertions.assertThat;

import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.library.dependencies.SliceAssignment;
import com.tngtech.archunit.library.dependencies.SliceIdentifier;
import java.io.IOException;
import java.io.Serializable;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;

/**
 * Holds the order of packages: a package imports only from those above it in this list. Inside of a
 * package, folders and classes import one way too, and no folder grows beyond what one can take in.
 */
class ArchitectureTest {
  private static final List<String> GROUND_FLOOR_FIRST =
      List.of(
          "model",
          "numerics",
          "thermal",
          "drift",
          "readiness",
          "lots",
          "host",
          "lines",
          "live",
          "store",
          "serial",
          "ingest",
          "api",
          "demo",
          "cli");

  /**
   * Plain Java over arrays and records: no input or output, no wall clock, no logging, no
   * framework.
   */
  private static final List<String> CORE = GROUND_FLOOR_FIRST.subList(0, 6);

  private static final int MOST_FILES_OF_A_FOLDER = 32;

  private static final Path SOURCES = Path.of("src");

  private static final JavaClasses CLASSES =
      new ClassFileImporter()
          .withImportOption(ImportOption.Predefined.DO_NOT_INCLUDE_TESTS)
          .importPackages("soakbench");

  @TestFactory
  Stream<DynamicTest> aPackageImportsOnlyFromThoseBelowIt() {
    List<DynamicTest> tests = new ArrayList<>();
    for (int floor = 0; floor < GROUND_FLOOR_FIRST.size() - 1; floor++) {
      String name = GROUND_FLOOR_FIRST.get(floor);
      String[] above =
          GROUND_FLOOR_FIRST.subList(floor + 1, GROUND_FLOOR_FIRST.size()).stream()
              .map(p -> "soakbench." + p + "..")
              .toArray(String[]::new);
      tests.add(
          DynamicTest.dynamicTest(
              name,
              () ->
                  noClasses()
                      .that()
                      .resideInAPackage("soakbench." + name + "..")
                      .should()
                      .dependOnClassesThat()
                      .resideInAnyPackage(above)
                      .allowEmptyShould(true)
                      .check(CLASSES)));
    }
    return tests.stream();
  }

  @Test
  void foldersImportOneWay() {
    slices().assignedFrom(new ByFolder()).should().beFreeOfCycles().check(CLASSES);
  }

  @Test
  void classesKnowEachOtherOneWay() {
    slices().assignedFrom(new BySourceFile()).should().beFreeOfCycles().check(CLASSES);
  }

  private static final class ByFolder implements SliceAssignment {
    @Override
    public SliceIdentifier getIdentifierOf(JavaClass javaClass) {
      return SliceIdentifier.of(javaClass.getPackageName());
    }

    @Override
    public String getDescription() {
      return "folders";
    }
  }

  private static final class BySourceFile implements SliceAssignment {
    @Override
    public SliceIdentifier getIdentifierOf(JavaClass javaClass) {
      return SliceIdentifier.of(javaClass.getName().replaceFirst("\\$.*", ""));
    }

    @Override
    public String getDescription() {
      return "source files";
    }
  }

  @Test
  void noFolderHoldsMoreThanOneCanTakeIn() throws IOException {
    Map<String, Integer> files = new TreeMap<>();
    try (Stream<Path> all = Files.walk(SOURCES)) {
      all.filter(f -> f.toString().endsWith(".java"))
          .forEach(f -> files.merge(f.getParent().toString(), 1, Integer::sum));
    }
    assertThat(files).isNotEmpty();
    assertThat(files.entrySet()).allMatch(e -> e.getValue() <= MOST_FILES_OF_A_FOLDER);
  }

  @Test
  void eachStopOfTheWalksCanBeOpened() throws IOException {
    String guide = Files.readString(Path.of("../DEVELOPERS.md"));
    Matcher stop = Pattern.compile("`([a-z/]+/[A-Z]\\w+\\.java)`").matcher(guide);
    List<String> stops = stop.results().map(found -> found.group(1)).toList();
    assertThat(stops).hasSizeGreaterThan(30);
    assertThat(stops)
        .allSatisfy(file -> assertThat(SOURCES.resolve("main/java/soakbench/" + file)).exists());
  }

  /** What nothing in the program calls yet; each with the reason why it is there. */
  private static final Map<String, String> WITHOUT_A_CALLER = Map.of("Main", "the program itself");

  /** By the source text, for the compiler leaves no trace of a constant's class. */
  @Test
  void everyClassHasACaller() throws IOException {
    Map<String, Set<String>> words = new TreeMap<>();
    try (Stream<Path> all = Files.walk(SOURCES.resolve("main/java"))) {
      for (Path file : all.filter(ArchitectureTest::isClass).toList()) {
        String code = COMMENT.matcher(Files.readString(file)).replaceAll(" ");
        String name = file.getFileName().toString().replace(".java", "");
        words.put(name + " " + file, Set.copyOf(List.of(code.split("\\W+"))));
      }
    }
    Set<String> uncalled = new TreeSet<>();
    for (String one : words.keySet()) {
      String name = one.split(" ")[0];
      if (words.entrySet().stream()
          .noneMatch(e -> !e.getKey().equals(one) && e.getValue().contains(name))) {
        uncalled.add(name);
      }
    }
    assertThat(uncalled).isEqualTo(new TreeSet<>(WITHOUT_A_CALLER.keySet()));
  }

  private static final Pattern COMMENT = Pattern.compile("(?s)/\\*.*?\\*/|//[^\n]*|import [^;]*;");

  private static boolean isClass(Path file) {
    return file.toString().endsWith(".java") && !file.endsWith("package-info.java");
  }

  @Test
  void theCoreTouchesNoFileNoClockAndNoFramework() {
    noClasses()
        .that()
        .resideInAnyPackage(CORE.stream().map(p -> "soakbench." + p + "..").toArray(String[]::new))
        .should()
        .dependOnClassesThat(
            resideInAnyPackage(
                    "java.io..",
                    "java.nio.file..",
                    "java.nio.channels..",
                    "java.net..",
                    "java.sql..",
                    "java.util.logging..",
                    "org.slf4j..",
                    "io.javalin..",
                    "com.fasterxml..")
                // A mark of what may be kept; it does nothing.
                .and(not(equivalentTo(Serializable.class))))
        .orShould()
        .dependOnClassesThat()
        .haveFullyQualifiedName("java.time.Clock")
        .orShould()
        .callMethod(System.class, "currentTimeMillis")
        .orShould()
        .callMethod(System.class, "nanoTime")
        .orShould()
        .callMethod(java.time.Instant.class, "now")
        .check(CLASSES);
  }

  @Test
  void everyClassLivesInAKnownPackage() {
    List<String> strangers =
        CLASSES.stream()
            .map(c -> c.getPackageName())
            .filter(p -> !p.equals("soakbench"))
            .map(p -> p.split("\\.")[1])
            .filter(p -> !GROUND_FLOOR_FIRST.contains(p))
            .distinct()
            .toList();
    assertThat(strangers).isEmpty();
  }
}
