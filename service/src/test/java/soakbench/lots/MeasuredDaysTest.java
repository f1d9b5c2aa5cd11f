package soakbench.lots;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.LocalDate;
import java.util.Map;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;

class MeasuredDaysTest {
  private static MeasuredDays of(Map<String, Integer> counts) {
    TreeMap<LocalDate, Integer> days = new TreeMap<>();
    counts.forEach((day, soaks) -> days.put(LocalDate.parse(day), soaks));
    return MeasuredDays.of(days);
  }

  @Test
  void mostIsTheDayOfMostSoaksAndOfSeveralTheNewest() {
    assertThat(of(Map.of("2026-03-01", 2, "2026-03-02", 1, "2026-03-09", 1)))
        .isEqualTo(new MeasuredDays("2026-03-01", "2026-03-01", "2026-03-09"));
    assertThat(of(Map.of("2026-03-01", 1, "2026-03-02", 1)))
        .isEqualTo(new MeasuredDays("2026-03-01", "2026-03-02", "2026-03-02"));
    assertThat(of(Map.of("2026-03-01", 3)).first()).isEqualTo("2026-03-01");
  }
}
