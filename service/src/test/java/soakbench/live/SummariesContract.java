package soakbench.live;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Test;
import soakbench.drift.still.FastResponse;
import soakbench.live.SoakStore.Unit;
import soakbench.model.Estimate;
import soakbench.model.Soak;
import soakbench.readiness.RecordedCooling;
import soakbench.thermal.cooling.Cooling;

/** What every store must do with what is kept of soaks for those after them. */
interface SummariesContract extends StoreInTest {
  @Test
  default void summariesComeBackToTheLastBitWithWhatIsStoredOfTheirSoak() {
    Soak soak = soak("a", 0, 100, null);
    run(u -> u.writeSoak(soak));
    SoakSummary summary = summary(soak, 1.0 / 3);
    run(u -> u.writeSummary(summary));
    assertThat(text(summaries(9))).isEqualTo(text(List.of(summary)));
    Soak ended = soak("a", 0, 900, Soak.End.SILENCE);
    run(u -> u.writeSoak(ended));
    run(u -> u.writeSummary(summary(soak, 2.0 / 3)));
    assertThat(text(summaries(9))).isEqualTo(text(List.of(summary(ended, 2.0 / 3))));
  }

  @Test
  default void theNewestSummariesOfATrackerAreThoseThatEndedLast() {
    List<Soak> soaks =
        List.of(soak("a", 0, 300, null), soak("b", 10, 100, null), soak("c", 20, 200, null));
    soaks.forEach(soak -> run(u -> u.writeSoak(soak)));
    soaks.forEach(soak -> run(u -> u.writeSummary(summary(soak, 5))));
    assertThat(summaries(2).stream().map(SoakSummary::soak).toList())
        .containsExactlyInAnyOrder(soaks.get(0).id(), soaks.get(2).id());
  }

  @Test
  default void aSummaryGoesWithItsSoakAndWithAUnitThatIsNotCommitted() {
    Soak soak = soak("a", 0, 100, null);
    run(u -> u.writeSummary(summary(soak, 1)));
    assertThat(summaries(9)).as("of a soak that is not stored").isEmpty();
    run(u -> u.writeSoak(soak));
    try (Unit unit = store().begin()) {
      unit.writeSummary(summary(soak, 2));
    }
    assertThat(text(summaries(9))).isEqualTo(text(List.of(summary(soak, 1))));
    run(u -> u.deleteSoak(soak.id()));
    run(u -> u.writeSoak(soak));
    assertThat(summaries(9)).isEmpty();
  }

  private List<SoakSummary> summaries(int most) {
    return read(u -> u.summaries(most)).stream()
        .filter(s -> s.tracker().equals(tracker()))
        .toList();
  }

  private static SoakSummary summary(Soak soak, double value) {
    double[] series = {0, value, value * 7};
    FastResponse response = new FastResponse(value, -value, 1e-300, value / 7, -2e-9, 3);
    return SoakSummary.of(
        soak,
        new SoakSummary.Thermal(
            Estimate.of(31 + value, value, 1.96),
            List.of(Estimate.unknown("too \"short\""), Estimate.of(800 * value, value, 700, 900)),
            List.of(
                new RecordedCooling(new Cooling(value, 31, series, series, 0.01, 1e-3), null),
                new RecordedCooling(
                    new Cooling(600, 31 + value, series, series, 0.01, 1e-3),
                    List.of(response, response, FastResponse.PRIOR)))));
  }

  /** Arrays and all. */
  private static String text(List<SoakSummary> summaries) {
    StringBuilder out = new StringBuilder();
    for (SoakSummary s : summaries) {
      out.append(List.of(s.soak(), s.tracker(), s.endUs(), s.ended(), s.thermal().plateauC()));
      out.append(s.thermal().timeConstantsS());
      for (RecordedCooling r : s.thermal().coolings()) {
        Cooling c = r.cooling();
        out.append(List.of(c.startS(), c.startC(), c.dropSdC(), c.rateSdCPerS()));
        out.append(Arrays.toString(c.dropC())).append(Arrays.toString(c.rateCPerS()));
        out.append(r.response());
      }
    }
    return out.toString();
  }
}
