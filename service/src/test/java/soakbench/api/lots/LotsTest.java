package soakbench.api.lots;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import soakbench.api.Http;

/** Lots of invented units over HTTP: listed, compared, screened. */
class LotsTest {
  private static final int[] SAME_DAYS = {1, 8};
  private static final double NARROW = 0.009;
  private static final double WIDE = 0.027;

  private static LotService service;
  private static Http http;

  @BeforeAll
  static void store() throws Exception {
    service =
        new LotService(
            new StoredLots(7)
                .lot("Barley-2", 14, NARROW, "window", 2, SAME_DAYS)
                .lot("Thistle-5", 16, WIDE, "window", 2, SAME_DAYS)
                .lot("Sorrel-1", 8, NARROW, "stove", 1, 15)
                .lot("Tansy-4", 3, NARROW, "window", 1, SAME_DAYS)
                .lot("Yarrow, late", 1, NARROW, "window", 1, SAME_DAYS)
                .alike("Clover-9", 6)
                .quick("Fern-3", 8, 100));
    http = service.http;
  }

  @AfterAll
  static void close() {
    service.close();
  }

  private static JsonNode compared(String query) {
    return http.json("/api/lot-comparison?" + query, "LotComparison");
  }

  private static List<String> texts(JsonNode list) {
    List<String> texts = new ArrayList<>();
    list.forEach(one -> texts.add(one.asText()));
    return texts;
  }

  @Test
  void onlyTheLotsOfAFilterAreListedInTableAndJson() {
    assertThat(lots("?rack=stove")).containsExactly("Sorrel-1");
    assertThat(lots("?lot=Tansy-4")).containsExactly("Tansy-4");
    assertThat(lots("?lot=nowhere")).isEmpty();
    assertThat(lots("?lot=Tansy-4&since=2100-01-01T00:00:00Z")).isEmpty();
    assertThat(lots("?rack=window&limit=2")).hasSize(2);
    String next = http.json("/api/lots?rack=window&limit=2", "LotList").get("next").asText();
    assertThat(next).contains("rack=window");
    assertThat(Http.csv(http.get("/api/lots.csv?rack=stove")).lines().skip(1))
        .isNotEmpty()
        .allMatch(row -> row.startsWith("Sorrel-1,"));
  }

  private static List<String> lots(String query) {
    List<String> names = new ArrayList<>();
    http.json("/api/lots" + query, "LotList")
        .get("lots")
        .forEach(l -> names.add(l.get("lot").asText()));
    return names;
  }

  @Test
  void everyLotIsListedPageByPageWithWhatItsFiguresComeTo() {
    List<String> names = new ArrayList<>();
    String next = "/api/lots?limit=3";
    while (next != null) {
      JsonNode page = http.json(next, "LotList");
      page.get("lots").forEach(lot -> names.add(lot.get("lot").asText()));
      next = page.get("next").isNull() ? null : page.get("next").asText();
    }
    assertThat(names)
        .containsExactly(
            "Barley-2", "Clover-9", "Fern-3", "Sorrel-1", "Tansy-4", "Thistle-5", "Yarrow, late");
    JsonNode barley = http.json("/api/lots", "LotList").get("lots").get(0);
    assertThat(barley.get("unit_count").asInt()).isEqualTo(14);
    assertThat(barley.get("listed").asInt()).isEqualTo(14);
    assertThat(barley.get("soaks").asInt()).isEqualTo(28);
    JsonNode x = barley.get("metrics").get("tempco_x_dps_per_c");
    assertThat(x.get("n").asInt()).isEqualTo(14);
    JsonNode sd = x.get("sd");
    assertThat(NARROW).isBetween(sd.get("low").asDouble(), sd.get("high").asDouble());
    assertThat(x.get("error_sd").asDouble())
        .as("two soaks of each unit")
        .isCloseTo(StoredLots.ERROR_DPS_PER_C / Math.sqrt(2), within(0.0005));
    assertThat(x.get("outside").get("limit_high").asDouble())
        .as("0.010 deg/s in 180 s at 0.10 degC/min")
        .isCloseTo(0.0333, within(0.0001));
    assertThat(x.get("tolerance").get("high").asDouble()).isGreaterThan(2 * NARROW);
    assertThat(barley.get("metrics").get("check_deg_per_min").get("missing").asText())
        .isEqualTo("no calibration of it was checked yet");
  }

  @Test
  void theUnitsOfALotAreGivenWithAllTheirFigures() {
    JsonNode lot = http.json("/api/lots/Thistle-5", "LotWithUnits");
    assertThat(lot.get("units")).hasSize(16);
    assertThat(lot.get("misfits_reason").isNull()).isTrue();
    JsonNode unit = lot.get("units").get(0);
    assertThat(unit.get("values").get("time_constant_s").get("value").asDouble())
        .isBetween(300.0, 600.0);
    assertThat(texts(unit.get("screening"))).isNotEmpty();
    JsonNode page = http.json("/api/lots/Thistle-5/units?limit=10", "LotUnitList");
    assertThat(page.get("units")).hasSize(10);
    assertThat(http.json(page.get("next").asText(), "LotUnitList").get("units")).hasSize(6);
    List<String> csv = Http.csv(http.get("/api/lots/Thistle-5/units.csv")).lines().toList();
    assertThat(csv).hasSize(17);
    assertThat(csv.get(0)).startsWith("tracker,name,rack,day,soaks,verdict,reason,greatest_tempco");
    assertThat(http.json("/api/lots/Tansy-4", "LotWithUnits").get("misfits_reason").asText())
        .contains("from 15 units on; it has 3");
  }

  @Test
  void aLotOfWiderCoefficientsIsSaidToBeSoManyTimesAsLarge() {
    JsonNode c = compared("lots=Barley-2,Thistle-5");
    JsonNode ratio = c.get("spread").get("ratio");
    assertThat(WIDE / NARROW).isBetween(ratio.get("low").asDouble(), ratio.get("high").asDouble());
    assertThat(c.get("words").asText())
        .matches(
            "Thistle-5's coefficients are \\d\\.\\d times as large as Barley-2's \\(95 % interval"
                + " \\d\\.\\d to \\d\\.\\d\\); \\w+ units of Thistle-5 are outside the limit");
    assertThat(c.get("confounded")).isEmpty();
    assertThat(c.get("level").get("test").asText()).isEqualTo("Welch");
    assertThat(c.get("pairs").get(0).get("adjusted_p").asDouble())
        .isGreaterThan(c.get("pairs").get(0).get("p").asDouble());
    assertThat(c.get("family")).hasSize(4);
    assertThat(c.get("detectable").get("ratio").asDouble()).isGreaterThan(1.3);
    assertThat(c.get("units_needed").get("each_for_ratio").asInt()).isGreaterThan(16);
    JsonNode days = c.get("blocks").get(0);
    assertThat(days.get("by").asText()).isEqualTo("day");
    assertThat(days.get("shared").asBoolean()).isTrue();
    assertThat(days.get("difference").get("value").asDouble()).isGreaterThan(0);
  }

  @Test
  void theSameQuestionHasTheSameAnswer() {
    String query = "/api/lot-comparison?lots=Barley-2,Thistle-5,Tansy-4";
    assertThat(http.get(query).body()).isEqualTo(http.get(query).body());
  }

  @Test
  void lotsMeasuredOnOtherDaysAndRacksCantBeToldFromThem() {
    JsonNode c = compared("lots=Thistle-5&lots=Sorrel-1");
    assertThat(c.get("words").asText()).isEqualTo("can't tell lot from day and rack");
    assertThat(texts(c.get("confounded"))).containsExactly("day", "rack");
    assertThat(c.get("finding").asText())
        .startsWith("seen, but not shown to be the lots': Thistle-5's coefficients are ");
    assertThat(texts(c.get("advice")))
        .contains("soak six or more units of each lot on one day")
        .anyMatch(a -> a.startsWith("Thistle-5 and Sorrel-1 share no day: Thistle-5 on 2026-0"));
    assertThat(c.get("blocks").get(0).get("difference").get("value").isNull()).isTrue();
  }

  @Test
  void aPairAmongSeveralLotsHasWiderLimitsThanAlone() {
    JsonNode two = compared("lots=Barley-2,Thistle-5").get("pairs").get(0);
    JsonNode four = compared("lots=Barley-2,Thistle-5,Fern-3,Tansy-4").get("pairs").get(0);
    for (String figure : List.of("difference", "ratio")) {
      assertThat(four.get(figure).get("low").asDouble())
          .isLessThan(two.get(figure).get("low").asDouble());
    }
    assertThat(four.get("p").asDouble()).isGreaterThan(two.get("p").asDouble());
  }

  @Test
  void atOneTemperatureEachUnitsFigureIsTakenFromItsCurve() {
    JsonNode c = compared("lots=Barley-2,Thistle-5&metric=bias_x_dps&at_c=30");
    assertThat(c.get("at_c").asDouble()).isEqualTo(30);
    assertThat(c.get("unit").asText()).isEqualTo("deg/s");
    JsonNode unit = c.get("lots").get(0).get("units").get(0);
    JsonNode tempco =
        http.json("/api/lots/Barley-2", "LotWithUnits").get("units").get(0).get("values");
    assertThat(unit.get("value").get("value").asDouble())
        .isCloseTo(0.1 - tempco.get("tempco_x_dps_per_c").get("value").asDouble(), within(1e-9));
  }

  @Test
  void noiseOfStreamsAtOtherRatesIsWarnedOf() {
    String noise = "&metric=angle_random_walk_x_deg_per_sqrt_h";
    assertThat(texts(compared("lots=Barley-2,Fern-3" + noise).get("warnings")))
        .singleElement()
        .asString()
        .contains("Barley-2 50.0 Hz and Fern-3 100.0 Hz");
    assertThat(compared("lots=Barley-2,Thistle-5" + noise).get("warnings")).isEmpty();
  }

  @Test
  void lotsTooSmallOrAllAlikeAreComparedByNothingAndSayWhy() {
    JsonNode single = compared("lots=Barley-2&lots=Yarrow,%20late");
    assertThat(single.get("level").get("reason").asText())
        .isEqualTo("too few: of Yarrow, late the figure is known of one unit");
    assertThat(single.get("words").asText())
        .startsWith("Barley-2's and Yarrow, late's coefficients can't be compared: too few");
    JsonNode alike = compared("lots=Clover-9&metric=tempco_x_dps_per_c");
    assertThat(alike.get("lots").get(0).get("sd").get("value").asDouble()).isZero();
    JsonNode both = compared("lots=Clover-9,Barley-2&metric=tempco_x_dps_per_c");
    assertThat(both.get("level").get("test").asText())
        .as("a lot without spread has no Welch test")
        .isEqualTo("permutation");
    JsonNode noBias = compared("lots=Clover-9,Barley-2&metric=settling_x_dps");
    assertThat(noBias.get("lots").get(0).get("missing").asText()).isEqualTo("not looked at");
    JsonNode alone = compared("lots=Barley-2");
    assertThat(alone.get("level").get("reason").asText()).startsWith("one lot alone");
    assertThat(alone.get("differ_most")).isEmpty();
  }

  @Test
  void aPairIsARowOfTheTable() {
    List<String> csv =
        Http.csv(http.get("/api/lot-comparison.csv?lots=Barley-2,Thistle-5,Tansy-4"))
            .lines()
            .toList();
    assertThat(csv).hasSize(4);
    assertThat(csv.get(0)).startsWith("metric,unit,at_c,a,n_a,b,n_b,difference,difference_se");
    assertThat(Http.csv(http.get("/api/lots.csv")).lines().count()).isGreaterThan(7 * 25);
  }

  @Test
  void whatCantBeComparedIsAllListedWithTheNearestName() {
    JsonNode problem = refused("lots=Barley2,Thistle-5,Thistle-5");
    List<String> reasons = new ArrayList<>();
    problem.get("problems").forEach(p -> reasons.add(p.get("reason").asText()));
    assertThat(reasons)
        .containsExactly(
            "There is no lot Barley2; did you mean \"Barley-2\"?",
            "Lot Thistle-5 comes twice; name it once.");
    assertThat(refused("lots=Barley-2&metric=tempco_x").get("detail").asText())
        .contains("did you mean \"tempco_x_dps_per_c\"?");
    assertThat(refused("metric=plateau_c").get("detail").asText()).contains("Say which lots");
    assertThat(refused("lots=Barley-2&ratio=1").get("detail").asText()).contains("above 1");
    String many = IntStream.range(0, 10_000).mapToObj(i -> "L").collect(Collectors.joining(","));
    assertThat(http.get("/api/lot-comparison?lots=" + many).statusCode()).isIn(400, 414);
    assertThat(refused("lots=" + many.substring(0, 199)).get("detail").asText())
        .isEqualTo("lots names 100 lots; at most 8 are compared at once.");
    assertThat(
            Http.problem(http.get("/api/lots/Barly-2"), 404, "unknown-lot").get("detail").asText())
        .contains("did you mean \"Barley-2\"?");
  }

  private static JsonNode refused(String query) {
    return Http.problem(http.get("/api/lot-comparison?" + query), 400, "invalid-request");
  }
}
