package soakbench.readiness.estimator;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import soakbench.demo.simulation.Mix;
import soakbench.demo.simulation.Recipe;
import soakbench.demo.unit.SimulatedUnit;
import soakbench.demo.unit.UnitGenerator;
import soakbench.drift.still.Stillness;
import soakbench.model.Bin;
import soakbench.model.Estimate;
import soakbench.model.Limits;
import soakbench.model.TauPrior;

/** What the estimator tells, on simulated trackers whose truth is known. */
class EstimatorTest {
  private static final TrackedRun CALM = TrackedRun.of(Mix.CLEAN, 1_000_004);
  private static final TrackedRun COARSE = coarse(1_000_004);
  private static final List<Answer> TOLD = told(CALM.bins, Limits.DEFAULT);

  private static TrackedRun coarse(long seed) {
    Recipe fine = TrackedRun.recipe(Mix.CLEAN, seed);
    SimulatedUnit unit = UnitGenerator.steepest(fine.unit(), 0.04).withThermometer(0.5);
    return new TrackedRun(
        new Recipe(unit, fine.heating(), fine.events(), fine.stream(), fine.run(), fine.origin()),
        seed);
  }

  private static List<Answer> told(List<Bin> bins, Limits limits) {
    return told(bins, limits, null);
  }

  private static List<Answer> told(List<Bin> bins, Limits limits, TauPrior earlier) {
    Estimator estimator = new Estimator(limits, earlier);
    Stillness stillness = new Stillness();
    List<Answer> out = new ArrayList<>();
    for (Bin bin : bins) {
      out.add(estimator.add(bin, stillness.accept(bin), Doubts.NONE));
    }
    return out;
  }

  private static double rate(Answer a) {
    return a.temperature().rateCPerMin().value();
  }

  private static int firstReady(List<Answer> told) {
    for (int i = 0; i < told.size(); i++) {
      if (told.get(i).dwell().ready()) {
        return i;
      }
    }
    return -1;
  }

  private static int second(int bin) {
    return (int) (CALM.bins.get(bin).second() - Course.BASE_S);
  }

  private static int firstTrulyReady() {
    int s = 0;
    while (!CALM.ready[s]) {
      s++;
    }
    return s;
  }

  /** So live, replayed and after a restart are the same. */
  @Test
  void anAnswerFollowsFromTheSecondsUpToItAlone() {
    List<Answer> again = told(CALM.bins.subList(0, 1500), Limits.DEFAULT);
    assertThat(again)
        .usingRecursiveFieldByFieldElementComparator()
        .isEqualTo(TOLD.subList(0, 1500));
  }

  @Test
  void inACalmRoomItIsReadyWithinAMinuteOfTheTruth() {
    int late = second(firstReady(TOLD)) - firstTrulyReady();
    assertThat(late).isBetween(-5, 60);
  }

  @Test
  void whatIsToldOfTemperatureAndRateIsTrueWithinItsInterval() {
    int in = 0;
    int of = 0;
    for (int i = 600; i < TOLD.size(); i += 10) {
      Answer a = TOLD.get(i);
      // The newest block's middle lies about six seconds back.
      int s = second(i) - 6;
      assertThat(a.temperature().nowC()).isCloseTo(CALM.temperatureC[second(i)], within(0.03));
      assertThat(rate(a)).isCloseTo(CALM.rateCPerMin[s], within(0.01));
      for (int x = 0; x < 3; x++) {
        Estimate shift = a.shifts().eachDps().get(x);
        in += shift.low() <= CALM.shiftDps[s][x] && CALM.shiftDps[s][x] <= shift.high() ? 1 : 0;
        of++;
      }
    }
    assertThat(in / (double) of).as("share of 95 %% intervals that hold").isGreaterThan(0.8);
  }

  /** A minute is much of what a quarter of a warm-up has shown. */
  @Test
  void inTheFirstTenMinutesTheTimeToldIsAtMostHalfAMinuteOld() {
    List<Answer> young =
        TOLD.subList(0, 600).stream().filter(a -> a.expected() != null && a.tS() < 600).toList();
    assertThat(young).hasSizeGreaterThan(300);
    assertThat(young).allMatch(a -> a.tS() - a.expected().fromS() <= 31);
  }

  @Test
  void everyFigureHasItsInterval() {
    Answer a = TOLD.get(900);
    for (TostInterval t : List.of(a.temperature().rateCPerMin(), a.shifts().worstDps())) {
      assertThat(t.low()).isLessThan(t.value());
      assertThat(t.high()).isGreaterThan(t.value());
    }
    assertThat(a.shifts().within()).isEqualTo(a.shifts().worstDps().within(0.010));
    assertThat(a.dwell().neededS()).isEqualTo(60);
    assertThat(a.shifts().eachDps()).hasSize(3);
  }

  @Test
  void withoutABlockNothingIsKnown() {
    Answer first = TOLD.get(0);
    assertThat(first.temperature()).isNull();
    assertThat(first.shifts()).isNull();
    assertThat(first.dwell().ready()).isFalse();
  }

  @Test
  void itIsReadyOnlyAfterTheDwell() {
    int ready = firstReady(TOLD);
    assertThat(TOLD.get(ready).dwell().heldS()).isGreaterThanOrEqualTo(60);
    assertThat(TOLD.get(ready).dwell().settled()).isTrue();
    assertThat(TOLD.get(ready - 1).dwell().heldS()).isLessThan(60);
    List<Answer> patient = told(CALM.bins.subList(0, 2000), withDwell(300));
    assertThat(firstReady(patient) - ready).isBetween(239, 241);
  }

  private static Limits withDwell(double dwellS) {
    Limits d = Limits.DEFAULT;
    return new Limits(
        d.heardWithinS(),
        d.gapLimitS(),
        d.stillForS(),
        d.bandLowC(),
        d.bandHighC(),
        d.bandMarginC(),
        d.useTemperatureC(),
        d.nearUseLimitDegPerMin(),
        d.temperatureRateLimitCPerMin(),
        d.shiftLimitDps(),
        d.calibrationS(),
        dwellS,
        d.hotC(),
        d.riseLimitCPerMin(),
        d.alpha());
  }

  @Test
  void theExpectedTimeIsNeverLessThanTheDwellStillNeeds() {
    int told = 0;
    for (Answer a : TOLD) {
      if (a.expected() != null) {
        double since = a.tS() - a.expected().fromS();
        double dwell = a.dwell().settled() ? a.dwell().neededS() - (a.dwell().heldS() - since) : 0;
        if (since < 2) {
          assertThat(a.expected().earliestS()).isGreaterThanOrEqualTo(dwell - 2);
          told++;
        }
        assertThat(a.expected().earliestS()).isLessThanOrEqualTo(a.expected().expectedS());
        assertThat(a.expected().expectedS()).isLessThanOrEqualTo(a.expected().latestS());
      }
    }
    assertThat(told).isGreaterThan(10);
  }

  @Test
  void theExpectedTimeIsWhenItIsReady() {
    int ready = firstReady(TOLD);
    int in = 0;
    int of = 0;
    for (int i = 300; i < ready; i += 60) {
      Answer.Expected e = TOLD.get(i).expected();
      if (e != null) {
        double left = TOLD.get(ready).tS() - e.fromS();
        in += e.earliestS() - 10 <= left && left <= e.latestS() + 10 ? 1 : 0;
        of++;
        if (i > ready * 0.75) {
          assertThat(e.expectedS()).isCloseTo(left, within(45.0));
        }
      }
    }
    assertThat(of).isGreaterThan(10);
    assertThat(in / (double) of).isGreaterThan(0.8);
  }

  /** A soak that is like the earlier ones; and one whose body is twice as quick. */
  @Test
  void earlierSoaksNarrowTheExpectedTimeAndAreOutweighed() {
    double alone = width(TOLD.get(420));
    assertThat(width(at420(new TauPrior(950, 1.05, 4)))).isLessThan(alone / 2);
    List<Answer> wrong =
        told(CALM.bins.subList(0, 1800), Limits.DEFAULT, new TauPrior(480, 1.05, 4));
    int ready = firstReady(wrong);
    assertThat(ready).isCloseTo(firstReady(TOLD), within(30));
    Answer.Expected late = wrong.get(ready - 300).expected();
    assertThat(late.expectedS()).isCloseTo(wrong.get(ready).tS() - late.fromS(), within(45.0));
  }

  private static Answer at420(TauPrior earlier) {
    return told(CALM.bins.subList(0, 421), Limits.DEFAULT, earlier).get(420);
  }

  private static double width(Answer a) {
    return a.expected().latestS() - a.expected().earliestS();
  }

  @Test
  void motionEndsReadyAtOnceAndSoDoesSilence() {
    List<Bin> bins = CALM.bins.subList(0, 1700);
    Estimator moved = new Estimator(Limits.DEFAULT, null);
    Estimator silent = new Estimator(Limits.DEFAULT, null);
    Stillness stillness = new Stillness();
    for (Bin bin : bins) {
      Stillness.Answer answer = stillness.accept(bin);
      moved.add(bin, answer, Doubts.NONE);
      silent.add(bin, answer, Doubts.NONE);
    }
    assertThat(TOLD.get(1699).dwell().ready()).isTrue();
    assertThat(moved.add(CALM.bins.get(1700), Stillness.Answer.MOVED, Doubts.NONE).dwell().ready())
        .isFalse();
    Bin later = CALM.bins.get(1730);
    assertThat(silent.add(later, Stillness.Answer.STILL, Doubts.NONE).dwell().ready()).isFalse();
  }

  /** Half a degree hides three minutes of a settled body; the rates of a steep axis show it. */
  @Test
  void aCoarseThermometerIsHelpedByTheRates() {
    List<Answer> told = told(COARSE.bins, Limits.DEFAULT);
    int ready = firstReady(told);
    int late = second(ready) - firstTrulyReady(COARSE);
    assertThat(told.get(ready).dwell().neededS()).isEqualTo(120);
    assertThat(COARSE.greatestDps[second(ready)]).isLessThan(0.0105);
    assertThat(late).isBetween(0, 600);
  }

  private static int firstTrulyReady(TrackedRun run) {
    int s = 0;
    while (!run.ready[s]) {
      s++;
    }
    return s;
  }

  @Test
  void aStreamWithoutRatesIsNeverReady() {
    Estimator estimator = new Estimator(Limits.DEFAULT, null);
    Bin.Channel none = Bin.Channel.EMPTY;
    Bin.Channel[] nothing = {none, none, none};
    for (Bin b : CALM.bins.subList(0, 1800)) {
      Bin bare =
          new Bin(
              b.tracker(),
              b.second(),
              b.firstUs(),
              b.lastUs(),
              b.boot(),
              b.temperatureC(),
              nothing,
              nothing,
              b.temperatureStepC(),
              Double.NaN);
      Answer a = estimator.add(bare, Stillness.Answer.NO_RATES, Doubts.NONE);
      assertThat(a.dwell().ready()).isFalse();
    }
  }
}
