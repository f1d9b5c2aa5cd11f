package soakbench.readiness.estimator;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import soakbench.model.Bin;
import soakbench.model.Limits;
import soakbench.model.SoakTerms;
import soakbench.model.State;
import soakbench.readiness.Judge;
import soakbench.readiness.Readiness;
import soakbench.readiness.ReadyAt;

/** Second by second, what a state says and what the expected time says go together. */
class StateAndTimeTest {
  /** Each says that there is nothing to wait for, or that it is not known. */
  private static final Set<State> WITHOUT_A_TIME =
      EnumSet.of(State.READY, State.HOT, State.STALLED, State.UNDECIDED, State.SILENT);

  @ParameterizedTest
  @ValueSource(strings = {"usual", "nasty", "coarsesteep", "strange"})
  void noStateContradictsTheTime(String mix) {
    contradictsNoTime(mix, 1);
  }

  @ParameterizedTest
  @ValueSource(strings = {"usual", "nasty", "coarsesteep", "strange"})
  @Tag("bench")
  void norOfMany(String mix) {
    contradictsNoTime(mix, 8);
  }

  private static void contradictsNoTime(String mix, int trackers) {
    int times = 0;
    for (TrackedRun run : EstimatorTrial.runs(mix, trackers, 92)) {
      Judge judge = new Judge("t", "s", SoakTerms.of(Limits.DEFAULT));
      List<Bin> bins = run.bins;
      for (int i = 0; i < bins.size(); i++) {
        Readiness r = judge.accept(bins.get(i), i + 1 < bins.size() ? bins.get(i + 1) : null);
        times += r.readyAt() == null ? 0 : 1;
        if (r.readyAt() != null) {
          assertThat(WITHOUT_A_TIME).as("%s at %d s", run.words(), i).doesNotContain(r.state());
          inOrder(r.readyAt());
        }
      }
      assertThat(judge.fault()).isEmpty();
    }
    assertThat(times).as("seconds with a time").isGreaterThan(1000);
  }

  private static void inOrder(ReadyAt at) {
    assertThat(at.earliestUs()).isLessThanOrEqualTo(at.expectedUs());
    assertThat(at.expectedUs()).isLessThanOrEqualTo(at.latestUs());
  }
}
