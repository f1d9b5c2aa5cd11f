package soakbench.demo;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;

import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.core.importer.ImportOption;
import org.junit.jupiter.api.Test;

/** An error in the figures must not be able to hide behind the same error in the simulator. */
class DemoIndependenceTest {

  @Test
  void theSimulatorUsesNothingOfWhatItTests() {
    noClasses()
        .that()
        .resideInAPackage("soakbench.demo..")
        .should()
        .dependOnClassesThat()
        .resideInAnyPackage(
            "soakbench.numerics..",
            "soakbench.thermal..",
            "soakbench.drift..",
            "soakbench.readiness..",
            "soakbench.lots..",
            "org.hipparchus..")
        .check(
            new ClassFileImporter()
                .withImportOption(ImportOption.Predefined.DO_NOT_INCLUDE_TESTS)
                .importPackages("soakbench.demo"));
  }
}
