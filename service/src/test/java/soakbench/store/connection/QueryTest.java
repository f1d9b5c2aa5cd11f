package soakbench.store.connection;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;

class QueryTest {
  @Test
  void aRowIsInsertedOrReplacedByItsKey() {
    assertThat(Query.upsert("stock", "shelf, place", "what, counted::jsonb"))
        .isEqualTo(
            "INSERT INTO stock (shelf, place, what, counted) VALUES (?, ?, ?, ?::jsonb)"
                + " ON CONFLICT (shelf, place) DO UPDATE SET"
                + " what = EXCLUDED.what, counted = EXCLUDED.counted");
  }

  @Test
  void aConstantComesBackFromItsWordAndNothingFromNothing() {
    assertThat(Query.word(TimeUnit.SECONDS)).isEqualTo("seconds");
    assertThat(Query.constant(TimeUnit.class, "seconds")).isEqualTo(TimeUnit.SECONDS);
    assertThat(Query.word(null)).isNull();
    assertThat(Query.constant(TimeUnit.class, null)).isNull();
  }
}
