package soakbench.store;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.stream.IntStream;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import soakbench.drift.still.FastResponse;
import soakbench.live.SoakStore.Unit;
import soakbench.live.SoakSummary;
import soakbench.live.watch.SoakWatch;
import soakbench.model.Estimate;
import soakbench.model.Limits;
import soakbench.model.Sample;
import soakbench.model.Soak;
import soakbench.model.SoakTerms;
import soakbench.model.TauPrior;
import soakbench.model.Tracker;
import soakbench.readiness.Readiness;
import soakbench.readiness.RecordedCooling;
import soakbench.readiness.Unwrapped;
import soakbench.thermal.cooling.Cooling;

/** What the soaks on a rack tell of the next, with a real database and its roster. */
class RackTest {
  private static final long START_US = 1_772_352_000_000_000L;
  private static final long SOAK_US = 3_600_000_000L;

  private static Database database;

  @BeforeAll
  static void open() {
    database = Database.open(SharedServer.empty());
    put("A-1", "north", "K14");
    put("A-2", "north", "K14");
    put("A-3", "north", "K15");
    put("B-1", "south", "K14");
    put("C-1", "", "K14");
    put("C-2", "", "K14");
    ended("A-1", 0, 800);
    ended("A-2", 1, 820);
    ended("A-3", 2, 780);
    ended("B-1", 0, 300);
    ended("C-1", 0, 500);
    ended("C-1", 1, 520);
    ended("C-1", 2, 510);
  }

  @AfterAll
  static void close() {
    if (database != null) {
      database.close();
    }
  }

  private static void put(String id, String rack, String lot) {
    database
        .roster()
        .put(
            new Tracker(
                id, id, lot, "", "", rack, "", Tracker.Power.BATTERY, Tracker.Rates.RAW, 0, ""));
  }

  /** The n-th hour's soak, with a cooling that falls a degree in 100 s. */
  private static void ended(String tracker, int nth, double tauS) {
    long startUs = START_US + nth * SOAK_US;
    long endUs = startUs + SOAK_US - 1_000_000_000L;
    Soak soak = new Soak(tracker + "@" + nth, tracker, startUs, endUs, 9, Soak.End.SILENCE);
    double[] drop = IntStream.rangeClosed(0, 300).mapToDouble(s -> 0.01 * s).toArray();
    double[] rate = IntStream.rangeClosed(0, 300).mapToDouble(s -> 0.01).toArray();
    RecordedCooling cooling =
        new RecordedCooling(
            new Cooling(1000, 31, drop, rate, 0.001, 0.0001),
            List.of(FastResponse.PRIOR, FastResponse.PRIOR, FastResponse.PRIOR));
    try (Unit unit = database.soakStore().begin()) {
      unit.writeSoak(soak);
      unit.writeTerms(soak.id(), SoakTerms.of(Limits.DEFAULT));
      unit.writeSummary(
          SoakSummary.of(
              soak,
              new SoakSummary.Thermal(
                  Estimate.of(31, 0.1, 1.96),
                  List.of(Estimate.of(tauS, 10, 1.96)),
                  tracker.startsWith("A-1") || tracker.startsWith("C-1")
                      ? List.of(cooling)
                      : List.of())));
      unit.commit();
    }
  }

  /** Begins a soak and lets it lie still for so long; returns its verdict. */
  private static Readiness soak(SoakWatch watch, String tracker, int nth, int seconds) {
    long startUs = START_US + nth * SOAK_US;
    List<Sample> samples =
        IntStream.range(0, 10 * seconds)
            .mapToObj(
                i ->
                    new Sample(
                        tracker,
                        startUs + i * 100_000L,
                        (float) (31 + 0.01 * Math.sin(i * 1.7)),
                        false,
                        (float) (0.01 * Math.sin(i * 2.1)),
                        (float) (0.01 * Math.sin(i * 2.9)),
                        (float) (0.01 * Math.sin(i * 1.3)),
                        Float.NaN,
                        Float.NaN,
                        Float.NaN,
                        i,
                        -1))
            .toList();
    watch.accept(samples);
    return watch.readiness(tracker).orElseThrow();
  }

  private static TauPrior priorOf(Readiness verdict) {
    try (Unit unit = database.soakStore().begin()) {
      return unit.terms(verdict.soak()).orElseThrow().tauPrior();
    }
  }

  private static SoakWatch watch() {
    return new SoakWatch(database.soakStore(), Limits.DEFAULT, () -> START_US);
  }

  @Test
  void aSoakTakesWhatEndedOnItsRackBeforeItBegan() {
    TauPrior prior = priorOf(soak(watch(), "A-2", 9, 5));
    assertThat(prior.medianS()).isEqualTo(800, org.assertj.core.data.Offset.offset(1e-6));
    assertThat(prior.soaks()).isEqualTo(3);
  }

  @Test
  void aTrackerWithoutARackTakesOnlyItsOwn() {
    assertThat(priorOf(soak(watch(), "C-1", 9, 5)).soaks()).isEqualTo(3);
    assertThat(priorOf(soak(watch(), "C-2", 9, 5))).isNull();
    assertThat(priorOf(soak(watch(), "B-1", 9, 5))).as("one soak is too few").isNull();
  }

  @Test
  void thePriorOutlivesARestartAndSoaksThatEndLater() {
    Readiness before = soak(watch(), "A-1", 20, 5);
    ended("A-3", 21, 2000);
    ended("A-3", 22, 2000);
    ended("A-3", 23, 2000);
    SoakWatch restarted = watch();
    restarted.restore();
    assertThat(priorOf(restarted.readiness("A-1").orElseThrow())).isEqualTo(priorOf(before));
  }

  @Test
  void theTimeUnwrappedComesFromThisTrackerElseFromItsRackAndLot() {
    SoakWatch watch = watch();
    Unwrapped own = soak(watch, "A-1", 30, 400).unwrapped();
    assertThat(own.source()).isEqualTo(Unwrapped.OWN);
    Unwrapped mate = soak(watch, "A-2", 30, 400).unwrapped();
    assertThat(mate.source()).isEqualTo(Unwrapped.MATES);
    assertThat(mate.timeS().known()).isTrue();
    assertThat(mate.spreadDps()).hasSize(3);
    Unwrapped otherLot = soak(watch, "A-3", 30, 400).unwrapped();
    assertThat(otherLot.reason()).isEqualTo(Unwrapped.UNCOVER_ONE);
    Unwrapped noRack = soak(watch, "C-2", 30, 400).unwrapped();
    assertThat(noRack.reason()).isEqualTo(Unwrapped.UNCOVER_ONE);
    assertThat(noRack.source()).isNull();
  }
}
