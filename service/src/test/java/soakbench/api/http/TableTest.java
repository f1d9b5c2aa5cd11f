package soakbench.api.http;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.Test;
import soakbench.model.Estimate;

/** One description of a record for JSON and CSV. */
class TableTest {
  private record Lamp(String id, Long litUs, double lux, Estimate life, Lamp beside) {}

  private static final Table<Lamp> BESIDE = new Table<Lamp>().column("id", Lamp::id);

  private static final Table<Lamp> LAMPS =
      new Table<Lamp>()
          .column("id", Lamp::id)
          .time("lit", Lamp::litUs)
          .cell("kilolux", l -> l.lux() / 1_000)
          .member("lux", Lamp::lux)
          .estimate("life_s", Lamp::life)
          .member("beside", Lamp::beside, BESIDE);

  private static final Lamp DARK =
      new Lamp("a", null, Double.NaN, Estimate.unknown("never lit"), null);
  private static final Lamp LIT = new Lamp("b", 0L, 250, Estimate.of(90, 1, 88, 92), DARK);

  @Test
  void membersComeInTheirOrderAndTimesAsText() {
    assertThat(Json.write(LAMPS.json(LIT)))
        .isEqualTo(
            "{\"id\":\"b\",\"lit\":\"1970-01-01T00:00:00Z\",\"lux\":250.0,"
                + "\"life_s\":{\"value\":90.0,\"se\":1.0,\"low\":88.0,\"high\":92.0},"
                + "\"beside\":{\"id\":\"a\"}}");
  }

  @Test
  void whatIsNotKnownIsNullWithItsReason() {
    assertThat(Json.write(LAMPS.json(List.of(DARK))))
        .isEqualTo(
            "[{\"id\":\"a\",\"lit\":null,\"lux\":null,"
                + "\"life_s\":{\"value\":null,\"reason\":\"never lit\"},\"beside\":null}]");
    assertThat(LAMPS.json((Lamp) null)).isNull();
  }

  @Test
  void columnsAreThoseOfTheCsvAlone() {
    assertThat(LAMPS.names())
        .containsExactly(
            "id", "lit", "kilolux", "life_s", "life_s_se", "life_s_low", "life_s_high");
  }

  @Test
  void eachAxisIsNamedWithItsPlaceInArrays() {
    Table<double[]> rates = new Table<>();
    rates.eachAxis((axis, i) -> rates.column(axis + "_dps", r -> r[i]));
    assertThat(Json.write(rates.json(new double[] {1.5, 2.5, 3.5})))
        .isEqualTo("{\"x_dps\":1.5,\"y_dps\":2.5,\"z_dps\":3.5}");
  }
}
