package soakbench.host;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import org.junit.jupiter.api.Test;

class DeadlineTest {

  @Test
  void whatIsLeftShrinksAndIsNeverZeroWhichWouldMeanForEver() {
    assertThat(Deadline.in(Duration.ofMinutes(1)).leftMs()).isBetween(50_000L, 60_000L);
    assertThat(Deadline.inMs(-5).leftMs()).isEqualTo(1);
  }

  @Test
  void isOverFromItsMomentOn() {
    assertThat(Deadline.inMs(60_000).isOver()).isFalse();
    assertThat(Deadline.inMs(0).isOver()).isTrue();
  }
}
