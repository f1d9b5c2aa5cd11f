package soakbench.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.SplittableRandom;
import java.util.function.Function;
import java.util.stream.DoubleStream;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import soakbench.bench.VerdictScore;
import soakbench.bench.VerdictScore.ForecastScore;
import soakbench.cli.commands.Replay;
import soakbench.demo.lines.LineBuffer;
import soakbench.demo.simulation.Mix;
import soakbench.demo.simulation.Recipe;
import soakbench.demo.simulation.RecipeGenerator;
import soakbench.demo.simulation.SimulateOptions;
import soakbench.demo.simulation.SimulatedTracker;
import soakbench.demo.simulation.Truth;
import soakbench.ingest.source.Recording;
import soakbench.live.SoakStore;
import soakbench.live.memory.MemoryStore;
import soakbench.live.watch.SoakWatch;
import soakbench.model.Bin;
import soakbench.model.Estimate;
import soakbench.model.Limits;
import soakbench.model.SoakTerms;
import soakbench.model.TauPrior;
import soakbench.readiness.Judge;
import soakbench.readiness.Readiness;
import soakbench.thermal.EarlierTaus;

/**
 * What earlier soaks are worth to the expected ready time at a quarter of the way: simulated racks
 * whose trackers share a time constant but for a scatter: a few, or in the bench form so many that
 * some ninety have a time to hold against the truth, or as many as {@code -Dsoakbench.racks} says.
 */
class EarlierSoaksTest {
  private static final int RACKS = Integer.getInteger("soakbench.racks", 240);
  private static final int FEW = 10;
  private static final int EARLIER = 8;
  private static final double SCATTER = 0.07;

  /** A tracker's seconds up to a quarter of its true way, and what earlier soaks say of it. */
  private record Quarter(Truth truth, List<Bin> bins, TauPrior prior) {}

  @Test
  void theExpectedTimeIsBetterAndMoreHonestOnAFewRacksInASteadyRoom() {
    hold(Mix.CLEAN, FEW, 1);
  }

  @Test
  @Tag("bench")
  void theExpectedTimeIsBetterAndMoreHonestInASteadyRoom() {
    hold(Mix.CLEAN, RACKS, 1);
  }

  @Test
  @Tag("bench")
  void theExpectedTimeIsBetterAndMoreHonestInUsualHands() {
    hold(Mix.USUAL, RACKS, 0.9);
  }

  /**
   * @param most share of the error without that may be left
   */
  private static void hold(Mix mix, int racks, double most) {
    List<Quarter> quarters = quarters(mix, SCATTER, racks);
    List<ForecastScore> without = scores(quarters, q -> null);
    List<ForecastScore> with = scores(quarters, Quarter::prior);
    print(mix, "without", without);
    print(mix, "with", with);
    assertThat(with.size()).as("answers").isGreaterThan(racks / 4);
    assertThat(meanErrorS(with)).isLessThan(most * meanErrorS(without));
    assertThat(coverage(with)).as("coverage").isGreaterThanOrEqualTo(0.85);
  }

  static List<Quarter> quarters(Mix mix, double scatter, int racks) {
    return IntStream.range(0, racks)
        .parallel()
        .mapToObj(rack -> quarter(mix, scatter, rack))
        .filter(Objects::nonNull)
        .toList();
  }

  private static Quarter quarter(Mix mix, double scatter, int rack) {
    SplittableRandom random = new SplittableRandom(31_000 + rack);
    double rackS = random.nextDouble(500, 1300);
    List<Estimate> earlier =
        IntStream.range(0, EARLIER)
            .mapToObj(i -> seen(rackS * Math.exp(scatter * random.nextGaussian())))
            .toList();
    double bodyS = rackS * Math.exp(scatter * random.nextGaussian());
    SimulateOptions options = SimulateOptions.usual(8_100_000 + rack).withMix(mix);
    Recipe recipe = withBody(RecipeGenerator.recipe(options), bodyS);
    Truth truth = Truth.of(recipe);
    if (truth.readyS().isEmpty()) {
      return null;
    }
    double first = recipe.stream().firstS();
    double quarterS = first + (truth.readyS().get(0)[0] - first) / 4;
    return new Quarter(truth, bins(recipe, quarterS), EarlierTaus.prior(earlier).orElseThrow());
  }

  /** As an ended soak shows it: to within two in a hundred. */
  private static Estimate seen(double tauS) {
    return Estimate.of(tauS, 0.02 * tauS, 1.96);
  }

  private static Recipe withBody(Recipe r, double bodyS) {
    return r.with(r.heating().withBody(bodyS));
  }

  private static List<Bin> bins(Recipe recipe, double untilS) {
    try {
      Path lines = Files.createTempFile("soakbench-earlier-", ".jsonl");
      try {
        write(recipe, untilS, lines);
        MemoryStore store = MemoryStore.forgetful();
        SoakWatch watch = new SoakWatch(store, Limits.DEFAULT, () -> 0);
        Recording.read(lines, watch::accept);
        watch.finish();
        try (SoakStore.Unit unit = store.begin()) {
          return unit.bins(recipe.unit().id(), 0, Long.MAX_VALUE / 2_000_000L);
        }
      } finally {
        Files.delete(lines);
      }
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static void write(Recipe recipe, double untilS, Path lines) throws IOException {
    SimulatedTracker tracker = new SimulatedTracker(recipe);
    LineBuffer buffer = new LineBuffer();
    try (OutputStream out = new BufferedOutputStream(Files.newOutputStream(lines))) {
      while (tracker.nextUs() < recipe.startUs() + untilS * 1e6) {
        tracker.next(buffer);
        out.write(buffer.bytes(), 0, buffer.length());
        buffer.clear();
      }
    }
  }

  static List<ForecastScore> scores(List<Quarter> quarters, Function<Quarter, TauPrior> prior) {
    return quarters.stream()
        .parallel()
        .map(q -> score(q, prior.apply(q)))
        .filter(Objects::nonNull)
        .toList();
  }

  private static ForecastScore score(Quarter quarter, TauPrior prior) {
    Judge judge = new Judge("T", "T@1", new SoakTerms(Limits.DEFAULT, prior));
    List<Replay.Forecast> told = new ArrayList<>();
    List<Bin> bins = quarter.bins;
    for (int i = 0; i < bins.size(); i++) {
      boolean next = i + 1 < bins.size() && bins.get(i + 1).second() == bins.get(i).second() + 1;
      Readiness r = judge.accept(bins.get(i), next ? bins.get(i + 1) : null);
      told.add(new Replay.Forecast(r.asOfUs(), r.readyAt()));
      assertThat(r.readyAt() == null || r.readyAt().priorUsed() == (prior != null)).isTrue();
    }
    return VerdictScore.of(quarter.truth, List.of(), told).forecasts()[0];
  }

  /** Of a few answers the median is one answer's or another's; this is all of them. */
  private static double meanErrorS(List<ForecastScore> scores) {
    return sizes(scores).average().orElseThrow();
  }

  private static DoubleStream sizes(List<ForecastScore> scores) {
    return scores.stream().mapToDouble(s -> Math.abs(s.errorS())).sorted();
  }

  static double coverage(List<ForecastScore> scores) {
    return scores.stream().filter(ForecastScore::covered).count() / (double) scores.size();
  }

  static void print(Mix mix, String what, List<ForecastScore> scores) {
    double[] errors = sizes(scores).toArray();
    System.out.printf(
        Locale.ROOT,
        "%s, %s: %d answers at 25 %% of the way, error %.0f s in the mean, %.0f s median"
            + " (90th percentile %.0f), coverage %.0f %%%n",
        mix.word(),
        what,
        scores.size(),
        meanErrorS(scores),
        errors[errors.length / 2],
        errors[Math.min(errors.length - 1, errors.length * 9 / 10)],
        100 * coverage(scores));
    assertThat(Arrays.stream(errors).allMatch(Double::isFinite)).isTrue();
  }
}
