package soakbench.api.access;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.concurrent.atomic.AtomicInteger;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

/** What one client may have at once. */
class ClientQuotaTest {

  @Test
  void aClientGetsItsShareAndNoMoreUntilItGivesBack() {
    ClientQuota shares = new ClientQuota(2);
    assertThat(shares.take("a")).isTrue();
    assertThat(shares.take("a")).isTrue();
    assertThat(shares.take("a")).isFalse();
    assertThat(shares.take("b")).as("another one has its own").isTrue();
    shares.giveBack("a");
    assertThat(shares.take("a")).as("what was refused took nothing").isTrue();
    assertThat(shares.take("a")).isFalse();
  }

  @Test
  void manyThreadsTogetherGetNoMoreThanTheShare() {
    ClientQuota shares = new ClientQuota(3);
    AtomicInteger has = new AtomicInteger();
    AtomicInteger most = new AtomicInteger();
    IntStream.range(0, 20_000)
        .parallel()
        .forEach(
            i -> {
              if (shares.take("a")) {
                most.accumulateAndGet(has.incrementAndGet(), Math::max);
                has.decrementAndGet();
                shares.giveBack("a");
              }
            });
    assertThat(most.get()).isBetween(1, 3);
    assertThat(IntStream.range(0, 5).filter(i -> shares.take("a")).count()).isEqualTo(3);
  }
}
