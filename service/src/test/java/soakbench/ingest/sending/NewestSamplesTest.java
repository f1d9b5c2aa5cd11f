package soakbench.ingest.sending;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import soakbench.ingest.spool.SpooledSamples;
import soakbench.model.Sample;

class NewestSamplesTest {
  private static final long S = 1_000_000_000;

  private long nowNs;
  private final NewestSamples newest = new NewestSamples(() -> nowNs);

  private static Sample sample(String tracker, int second, float temperatureC) {
    return new Sample(
        tracker,
        SpooledSamples.START_US + 1_000_000L * second,
        temperatureC,
        false,
        1,
        2,
        3,
        Float.NaN,
        Float.NaN,
        Float.NaN,
        -1,
        -1);
  }

  @Test
  void theNewestOfEachTrackerIsToldOnce() {
    newest.note(sample("T-1", 0, 20));
    newest.note(sample("T-1", 1, 21));
    newest.note(sample("T-2", 0, 30));
    NewestSamples.Unreported news = newest.unreported();
    assertThat(news.samples())
        .containsExactlyInAnyOrder(sample("T-1", 1, 21), sample("T-2", 0, 30));
    assertThat(newest.unreported().samples()).as("not heard yet").hasSize(2);
    newest.note(sample("T-1", 2, 22));
    news.done().run();
    assertThat(newest.unreported().samples()).containsExactly(sample("T-1", 2, 22));
  }

  @Test
  void aTemperatureThatCameBeforeTheNewestRatesIsToldToo() {
    newest.note(sample("T-1", 0, 70));
    newest.note(sample("T-1", 1, Float.NaN));
    NewestSamples.Unreported news = newest.unreported();
    assertThat(news.samples()).containsExactly(sample("T-1", 0, 70), sample("T-1", 1, Float.NaN));
    newest.note(sample("T-1", 2, Float.NaN));
    news.done().run();
    assertThat(newest.unreported().samples()).containsExactly(sample("T-1", 2, Float.NaN));
  }

  @Test
  void whatIsOlderThanTenSecondsSaysNothingOfNow() {
    newest.note(sample("T-1", 0, 70));
    nowNs = 10 * S;
    assertThat(newest.unreported().samples()).hasSize(1);
    nowNs++;
    assertThat(newest.unreported().samples()).isEmpty();
  }
}
