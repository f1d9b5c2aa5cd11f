package soakbench.store.connection;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import soakbench.model.RackSet;

class WriterAbsenceTest {
  private static final Optional<Lease> NOBODY = Optional.empty();
  private static final Optional<Lease> SOMEBODY =
      Optional.of(new Lease(new Writer("bench-2", 7, Instant.EPOCH), RackSet.ALL));

  private final WriterAbsence abandoned = new WriterAbsence();

  private boolean found(Optional<Lease> writer, long atS) {
    return abandoned.found(writer, TimeUnit.SECONDS.toNanos(atS));
  }

  @Test
  void theRightLiesThereOnceItWasFreeForFiveSecondsInARow() {
    assertThat(found(NOBODY, 0)).isFalse();
    assertThat(found(NOBODY, 4)).isFalse();
    assertThat(found(NOBODY, 5)).isTrue();
    assertThat(abandoned.isFree()).isTrue();
  }

  @Test
  void aWriterInBetweenOrAServerThatDoesNotSayBeginsItAnew() {
    found(NOBODY, 0);
    assertThat(found(SOMEBODY, 3)).isFalse();
    assertThat(abandoned.isFree()).isFalse();
    found(NOBODY, 4);
    assertThat(found(NOBODY, 8)).isFalse();
    abandoned.unknown();
    assertThat(found(NOBODY, 9)).isFalse();
    assertThat(found(NOBODY, 14)).isTrue();
  }
}
