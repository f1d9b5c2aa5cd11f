package soakbench;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;

import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.core.importer.ImportOption;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import org.assertj.core.api.Assertions;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;

/** Holds the order of packages: a package imports only from those above it in this list. */
class ArchitectureTest {
  private static final List<String> GROUND_FLOOR_FIRST =
      List.of(
          "model",
          "numerics",
          "thermal",
          "drift",
          "readiness",
          "lots",
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
  void theCoreTouchesNoFileNoClockAndNoFramework() {
    noClasses()
        .that()
        .resideInAnyPackage(CORE.stream().map(p -> "soakbench." + p + "..").toArray(String[]::new))
        .should()
        .dependOnClassesThat()
        .resideInAnyPackage(
            "java.io..",
            "java.nio.file..",
            "java.nio.channels..",
            "java.net..",
            "java.sql..",
            "java.util.logging..",
            "org.slf4j..",
            "io.javalin..",
            "com.fasterxml..")
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
    Assertions.assertThat(strangers).isEmpty();
  }
}
