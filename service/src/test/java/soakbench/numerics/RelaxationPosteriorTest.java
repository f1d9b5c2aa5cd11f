package soakbench.numerics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.Arrays;
import java.util.SplittableRandom;
import org.assertj.core.data.Offset;
import org.junit.jupiter.api.Test;
import soakbench.model.TauPrior;

class RelaxationPosteriorTest {
  private static final TauPrior BODY = TauPrior.general(800, 0.6);
  private static final double[] GRID = ExponentialFit.logGrid(100, 6400, 60);

  /** Ten-second readings of a relaxation, with the truth at hand. */
  private record Run(double plateau, double start, double tau, double[] t, double[] y) {
    static Run of(double plateau, double start, double tau, double spanS, double sd, long seed) {
      int n = (int) (spanS / 10);
      double[] t = new double[n];
      double[] y = Noises.white(n, sd, seed);
      for (int i = 0; i < n; i++) {
        t[i] = 10 * i;
        y[i] += plateau + (start - plateau) * Math.exp(-t[i] / tau);
      }
      return new Run(plateau, start, tau, t, y);
    }

    RelaxationPosterior posterior() {
      return RelaxationPosterior.of(t, y, GRID, BODY, 0.001);
    }

    double at(double tS) {
      return plateau + (start - plateau) * Math.exp(-tS / tau);
    }

    double last() {
      return t[t.length - 1];
    }
  }

  @Test
  void aLongQuietRecordGivesPlateauTimeConstantAndWhatComes() {
    Run run = Run.of(31.4, 22, 760, 2400, 0.004, 3);
    RelaxationPosterior p = run.posterior();
    assertThat(p.mixture().plateau().value()).isEqualTo(31.4, Offset.offset(0.02));
    assertThat(p.tauQuantile(0.5)).isEqualTo(760, Offset.offset(15.0));
    double change = run.at(run.last() + 180) - run.at(run.last());
    assertThat(p.mixture().change(180).value()).isEqualTo(change, Offset.offset(0.005));
    double slope = (run.plateau - run.at(run.last())) / run.tau;
    assertThat(p.mixture().slope().value()).isEqualTo(slope, Offset.offset(2e-5));
    assertThat(p.mixture().present().value()).isEqualTo(run.at(run.last()), Offset.offset(0.004));
    assertThat(Arrays.stream(p.mixture().weight()).sum()).isEqualTo(1, Offset.offset(1e-12));
  }

  @Test
  void theIntervalsCoverTheTruthInShortAndLongRecords() {
    SplittableRandom random = new SplittableRandom(20260301);
    int plateau = 0;
    int change = 0;
    int slope = 0;
    int tau = 0;
    for (int i = 0; i < 200; i++) {
      double trueTau = 800 * Math.exp(0.6 * Math.max(-2, Math.min(2, random.nextGaussian())));
      double span = 200 + 1000 * random.nextDouble();
      double start = 24 + 4 * random.nextDouble();
      Run run = Run.of(31, start, trueTau, span, 0.01, 900 + i);
      RelaxationPosterior p = run.posterior();
      plateau += covers(p.mixture().plateau(), 31);
      change += covers(p.mixture().change(180), run.at(run.last() + 180) - run.at(run.last()));
      slope += covers(p.mixture().slope(), (31 - run.at(run.last())) / trueTau);
      tau += p.tauQuantile(0.025) <= trueTau && trueTau <= p.tauQuantile(0.975) ? 1 : 0;
    }
    for (int covered : new int[] {plateau, change, slope, tau}) {
      assertThat(covered / 2.0).as("percent covered").isBetween(90.0, 99.0);
    }
  }

  private static int covers(Measured m, double truth) {
    return Math.abs(m.value() - truth) <= 1.96 * m.se() ? 1 : 0;
  }

  @Test
  void residualsThatHangTogetherLowerTheEffectiveCount() {
    int n = 100;
    double[] steps = Noises.white(n, 0.01, 5);
    Run run = Run.of(31, 25, 700, 10 * n, 0, 1);
    double[] white = run.y.clone();
    double[] wandering = run.y.clone();
    double wander = 0;
    for (int i = 0; i < n; i++) {
      white[i] += steps[i];
      wander = 0.7 * wander + Math.sqrt(1 - 0.49) * steps[i];
      wandering[i] += wander;
    }
    RelaxationPosterior quiet = RelaxationPosterior.of(run.t, white, GRID, BODY, 0.001);
    RelaxationPosterior loud = RelaxationPosterior.of(run.t, wandering, GRID, BODY, 0.001);
    assertThat(quiet.effectiveCount()).isBetween(75.0, 100.0);
    // (1 - 0.7) / (1 + 0.7) of a hundred are 18.
    assertThat(loud.effectiveCount()).isBetween(9.0, 35.0);
    assertThat(loud.mixture().plateau().se()).isGreaterThan(1.5 * quiet.mixture().plateau().se());
  }

  @Test
  void onlyTimeSinceTheNewestReadingMatters() {
    Run run = Run.of(31, 25, 700, 900, 0.01, 8);
    double[] later = Arrays.stream(run.t).map(t -> t + 86_400).toArray();
    RelaxationPosterior shifted = RelaxationPosterior.of(later, run.y, GRID, BODY, 0.001);
    RelaxationPosterior plain = run.posterior();
    assertThat(shifted.mixture().weight())
        .containsExactly(plain.mixture().weight(), Offset.offset(1e-9));
    assertThat(shifted.mixture().given().plateau())
        .containsExactly(plain.mixture().given().plateau(), Offset.offset(1e-9));
    assertThat(shifted.mixture().change(180).se())
        .isEqualTo(plain.mixture().change(180).se(), Offset.offset(1e-12));
  }

  @Test
  void aTemperatureThatDoesNotMoveLeavesThePriorAndSmallDoubt() {
    double[] t = ExponentialFit.logGrid(1, 600, 60);
    double[] y = new double[60];
    Arrays.fill(y, 30.25);
    RelaxationPosterior p = RelaxationPosterior.of(t, y, GRID, BODY, 0.001);
    assertThat(p.mixture().plateau().value()).isEqualTo(30.25, Offset.offset(1e-9));
    assertThat(p.mixture().change(180).value()).isEqualTo(0, Offset.offset(1e-9));
    assertThat(p.mixture().change(180).se()).isBetween(1e-5, 0.01);
    for (double w : p.mixture().weight()) {
      assertThat(w).isFinite();
    }
  }

  @Test
  void fiveReadingsAreTooFew() {
    double[] five = {1, 2, 3, 4, 5};
    assertThatThrownBy(() -> RelaxationPosterior.of(five, five, GRID, BODY, 0.001))
        .hasMessage("5 readings are too few: at least 6");
  }
}
