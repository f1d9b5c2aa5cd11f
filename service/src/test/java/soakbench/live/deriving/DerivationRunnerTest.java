package soakbench.live.deriving;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import org.junit.jupiter.api.Test;
import soakbench.live.ManualClock;
import soakbench.live.StoreException;
import soakbench.live.deriving.DerivationStatus.State;

/** Soaks are derived one by one, whatever becomes of one of them. */
class DerivationRunnerTest {
  private final ManualClock clock = new ManualClock(1_000_000);
  private final DerivationRunner runner = new DerivationRunner("figures", clock);
  private final Set<String> due = new LinkedHashSet<>(List.of("A@1", "B@1", "C@1"));
  private final List<String> done = new ArrayList<>();
  private RuntimeException mistake = new IllegalStateException("no such bin");

  private int round() {
    return runner.derive(
        20,
        not -> due.stream().filter(s -> !not.contains(s)).toList(),
        soak -> {
          if (soak.startsWith("B") && mistake != null) {
            throw mistake;
          }
          done.add(soak);
          due.remove(soak);
        });
  }

  @Test
  void oneThatFailsDoesNotStopTheOthersAndSaysWhySinceWhen() {
    assertThat(runner.status()).isEqualTo(DerivationStatus.OK);
    assertThat(round()).isEqualTo(3);
    assertThat(done).containsExactly("A@1", "C@1");
    DerivationStatus state = runner.status();
    assertThat(state.state()).isEqualTo(State.FAILING);
    assertThat(state.soaks()).isEqualTo(1);
    assertThat(state.sinceUs()).isEqualTo(1_000_000);
    assertThat(state.reason()).startsWith("soak B@1: ").contains("no such bin");
    assertThat(runner.failureOf("B")).isPresent();
    assertThat(runner.failureOf("A")).isEmpty();
  }

  @Test
  void itRestsLongerEachTimeAndIsForgottenWhenItSucceeds() {
    List<Integer> tries = new ArrayList<>();
    for (int n = 0; n < 120; n++) {
      int failing = runner.failure("B@1").isPresent() ? 1 : 0;
      if (round() > 0 && failing == 1) {
        tries.add(n);
      }
    }
    assertThat(tries).containsExactly(15, 45, 105);
    mistake = null;
    for (int n = 0; n < 120; n++) {
      round();
    }
    assertThat(done).containsExactly("A@1", "C@1", "B@1");
    assertThat(runner.status()).isEqualTo(DerivationStatus.OK);
  }

  @Test
  void oneThatIsGoneIsForgottenWhenItsRestIsOver() {
    round();
    due.clear();
    for (int n = 0; n < 14; n++) {
      round();
      assertThat(runner.failureOf("B")).isPresent();
    }
    round();
    assertThat(runner.status()).isEqualTo(DerivationStatus.OK);
  }

  @Test
  void oneThatWaitsForItsTurnAmongManyIsNotForgotten() {
    round();
    for (int n = 0; n < 30; n++) {
      runner.derive(2, not -> List.of("D@1", "E@1"), soak -> {});
    }
    assertThat(runner.failureOf("B")).isPresent();
  }

  @Test
  void aStoreThatIsAwayStopsTheRoundAndNobodyIsBlamed() {
    mistake = new StoreException("the database is away", null, true);
    round();
    clock.pass(60);
    round();
    assertThat(done).containsExactly("A@1");
    assertThat(runner.status())
        .isEqualTo(new DerivationStatus(State.WAITING, 0, 1_000_000L, "the database is away"));
    mistake = null;
    round();
    assertThat(done).containsExactly("A@1", "B@1", "C@1");
    assertThat(runner.status()).isEqualTo(DerivationStatus.OK);
  }

  @Test
  void aSearchThatFailsIsTold() {
    runner.derive(
        20,
        not -> {
          throw new IllegalStateException("can't look");
        },
        soak -> {});
    assertThat(runner.status().state()).isEqualTo(State.WAITING);
    assertThat(runner.status().reason()).contains("can't look");
  }
}
