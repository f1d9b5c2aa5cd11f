package soakbench.ingest.identity;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import soakbench.ingest.identity.UnconfirmedIds.First;
import soakbench.lines.LineCounters;
import soakbench.lines.Reading;

class UnconfirmedIdsTest {
  private static final IdSource HERE = new IdSource("here", new LineCounters(), id -> {});
  private static final IdSource THERE = new IdSource("there", new LineCounters(), id -> {});

  private final UnconfirmedIds newcomers = new UnconfirmedIds();

  private static First line(IdSource from, long seq, long readUs) {
    return new First(
        from,
        new TimedReading(
            new Reading(
                "T-1",
                new Reading.Stamps(Reading.NO_TIME, Reading.NO_TIME, seq, -1, null),
                new Reading.Channels(24, 1, 1, 1, 0, 0, 1)),
            readUs));
  }

  @Test
  void theSecondLineGetsTheFirstAndThenItBeginsAnew() {
    First first = line(HERE, 1, 0);
    assertThat(newcomers.take("T-1", first)).isNull();
    assertThat(newcomers.take("T-2", line(HERE, 1, 5))).isNull();
    assertThat(newcomers.take("T-1", line(THERE, 2, 10))).isSameAs(first);
    assertThat(newcomers.take("T-1", line(HERE, 3, 20))).isNull();
  }

  @Test
  void aSecondLineThatComesAfterTwoMinutesIsAFirst() {
    newcomers.take("T-1", line(HERE, 1, 0));
    First late = line(HERE, 2, UnconfirmedIds.WITHIN_US + 1);
    assertThat(newcomers.take("T-1", late)).isNull();
    assertThat(newcomers.take("T-1", line(HERE, 3, 2 * UnconfirmedIds.WITHIN_US + 1)))
        .isSameAs(late);
  }

  @Test
  void theFirstLineOnceMoreIsNoSecond() {
    newcomers.take("T-1", line(HERE, 1, 0));
    assertThat(newcomers.isSentTwice("T-1", line(HERE, 1, 10))).isTrue();
    assertThat(newcomers.isSentTwice("T-1", line(HERE, 2, 10))).isFalse();
    assertThat(newcomers.isSentTwice("T-2", line(HERE, 1, 10))).isFalse();
    assertThat(newcomers.isSentTwice("T-1", line(HERE, 1, UnconfirmedIds.WITHIN_US + 1))).isFalse();
  }

  @Test
  void withoutACounterNobodyKnowsWhetherALineWasSentTwice() {
    newcomers.take("T-1", line(HERE, -1, 0));
    assertThat(newcomers.isSentTwice("T-1", line(HERE, -1, 10))).isFalse();
  }

  @Test
  void theOldestMakesRoomInAFlood() {
    for (int i = 0; i <= UnconfirmedIds.MOST; i++) {
      newcomers.take("X-" + i, line(HERE, 1, i));
    }
    assertThat(newcomers.take("X-0", line(HERE, 2, 5000))).isNull();
    assertThat(newcomers.take("X-2", line(HERE, 2, 5000))).isNotNull();
  }

  @Test
  void thoseHeardOnceFromASourceAreListedByNameTheNewestThirtyTwo() {
    newcomers.take("OLD", line(HERE, 1, 0));
    newcomers.take("OTHER", line(THERE, 1, 1_000));
    for (int i = 40; i > 0; i--) {
      newcomers.take("X-%02d".formatted(i), line(HERE, 1, 2_000));
    }
    assertThat(newcomers.of(HERE, 3_000))
        .hasSize(32)
        .isSorted()
        .startsWith("X-01")
        .endsWith("X-32");
    assertThat(newcomers.of(THERE, 3_000)).containsExactly("OTHER");
    assertThat(newcomers.of(THERE, UnconfirmedIds.WITHIN_US + 1_001)).isEmpty();
  }
}
