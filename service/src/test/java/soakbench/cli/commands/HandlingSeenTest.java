package soakbench.cli.commands;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import soakbench.demo.simulation.HandlingRuns;
import soakbench.demo.simulation.Recipe;
import soakbench.demo.unit.Correction;
import soakbench.demo.unit.Handling;
import soakbench.drift.calibration.HandlingDetector;
import soakbench.drift.calibration.HandlingSeen;
import soakbench.model.Bin;

/** How often calibrations are seen, and what isn't one is taken for one, by simulated handlings. */
class HandlingSeenTest {
  private static final long SEED = 710_000;

  private record Run(Handling truth, List<HandlingSeen> seen, int boots) {
    boolean mark() {
      return seen.stream().anyMatch(HandlingSeen::sure);
    }

    boolean inPlace() {
      return seen.size() == 1
          && Math.abs(seen.get(0).atSecond() - START_S - truth.fromS()) <= 3
          && Math.abs(seen.get(0).restSecond() - START_S - truth.toS()) <= 4;
    }
  }

  private static final long START_S = 1_767_254_400;

  @Test
  void aCalibrationIsSeenAndOtherHandlingIsNot() {
    judge(2, SEED);
  }

  @Test
  @Tag("bench")
  void sixtyFourHandlingsAreToldApart() {
    judge(8, SEED);
  }

  @Test
  @Tag("bench")
  void fiveHundredCalibrationsAreSeenAndOtherHandlingIsNot() {
    judge(500, SEED + 1_000_000);
  }

  @Test
  void withoutAnAccelerometerARebootAndMotionOnlyAsk() {
    asks(3);
  }

  @Test
  @Tag("bench")
  void soDoADozenOfEach() {
    asks(12);
  }

  private static void asks(int each) {
    List<Run> runs = runs(Handling.Kind.SIX_POSES, each, SEED + 77, false);
    assertThat(runs).allMatch(r -> r.seen().size() == 1 && !r.mark());
    assertThat(runs(Handling.Kind.PICKED_UP, each, SEED + 78, false))
        .allMatch(r -> r.seen().isEmpty());
  }

  private static void judge(int each, long seed) {
    Map<Handling.Kind, Integer> marks = new EnumMap<>(Handling.Kind.class);
    int real = 0;
    int seen = 0;
    int others = 0;
    int falsely = 0;
    int misplaced = 0;
    for (Handling.Kind kind : Handling.Kind.values()) {
      List<Run> runs = runs(kind, each, seed + 100_000L * kind.ordinal(), true);
      int marked = (int) runs.stream().filter(Run::mark).count();
      marks.put(kind, marked);
      runs.stream()
          .filter(r -> r.mark() != kind.calibration())
          .forEach(r -> System.out.println("wrongly told: " + r));
      if (kind.calibration()) {
        real += runs.size();
        seen += marked;
        misplaced += (int) runs.stream().filter(r -> r.mark() && !r.inPlace()).count();
      } else {
        others += runs.size();
        falsely += marked;
      }
    }
    System.out.printf(
        "calibrations seen: %d of %d, falsely %d of %d, misplaced %d; of %d each: %s%n",
        seen, real, falsely, others, misplaced, each, marks);
    assertThat(seen).isGreaterThanOrEqualTo((int) Math.ceil(0.95 * real));
    assertThat(falsely).isLessThanOrEqualTo(others / 100);
    assertThat(misplaced).isLessThanOrEqualTo(real / 20);
  }

  private static List<Run> runs(Handling.Kind kind, int count, long seed, boolean accelerometer) {
    return IntStream.range(0, count)
        .parallel()
        .mapToObj(i -> run(kind, i, seed + i, accelerometer))
        .toList();
  }

  /** Every third firmware needs no reboot; four poses are what one with a reboot asks for. */
  private static Run run(Handling.Kind kind, int index, long seed, boolean accelerometer) {
    boolean reboot = !accelerometer || kind == Handling.Kind.FOUR_POSES || index % 3 != 0;
    Correction correction =
        index % 2 == 0 ? Correction.NONE : Correction.of(Correction.Kind.STORED);
    Recipe recipe = HandlingRuns.of(kind, seed, accelerometer, reboot, correction);
    HandlingDetector watch = new HandlingDetector();
    List<HandlingSeen> seen = new ArrayList<>();
    int boots = 0;
    for (Bin bin : HandledRun.of(recipe).bins()) {
      boots = Math.max(boots, bin.boot());
      Optional<HandlingSeen> one = watch.accept(bin);
      one.filter(c -> c.kind() != HandlingSeen.Kind.OTHER).ifPresent(seen::add);
    }
    return new Run(recipe.events().handlings().get(0), seen, boots);
  }
}
