package soakbench.store.connection;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.concurrent.atomic.AtomicInteger;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import soakbench.live.StoreException;

@Timeout(30)
class RetriesTest {
  private final AtomicInteger tries = new AtomicInteger();

  @Test
  void aFaultThatPassesIsWaitedFor() {
    assertThat(Retries.untilThere(() -> failing(3, true))).isEqualTo(3);
  }

  @Test
  void oneThatDoesNotPassIsThrownAtOnce() {
    assertThatThrownBy(() -> Retries.untilThere(() -> failing(3, false)))
        .isInstanceOf(StoreException.class);
    assertThat(tries).hasValue(1);
  }

  @Test
  void whoIsInterruptedWaitsNoLongerAndStaysSo() {
    Thread.currentThread().interrupt();
    assertThatThrownBy(() -> Retries.untilThere(() -> failing(3, true)))
        .isInstanceOf(StoreException.class);
    assertThat(Retries.slept(60_000)).isFalse();
    assertThat(Thread.interrupted()).isTrue();
  }

  private int failing(int until, boolean passing) {
    if (tries.incrementAndGet() < until) {
      throw new StoreException("the database is away", null, passing);
    }
    return tries.get();
  }
}
