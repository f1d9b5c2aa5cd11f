package soakbench.pages;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.Base64;
import java.util.List;
import java.util.Map;
import java.util.regex.Pattern;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIf;
import org.openqa.selenium.Keys;
import org.openqa.selenium.support.ui.Select;
import soakbench.Chromium;
import soakbench.api.lots.LotService;
import soakbench.api.lots.StoredLots;

/** The pages of lots in a real browser. */
@EnabledIf(value = "soakbench.Chromium#isThere", disabledReason = "Chromium is not there")
class LotsPageTest {
  private static final Duration PATIENCE = Duration.ofSeconds(20);
  private static final String BOTH = "lots/compare?lots=Barley-2&lots=Thistle-5";
  private static final String APART = "lots/compare?lots=Thistle-5&lots=Sorrel-1";
  private static final String LIMITS =
      "{\"screening_limits\":[{\"metric\":\"greatest_tempco_dps_per_c\","
          + "\"look_again_over\":0.03,\"reject_over\":0.04}]}";

  /** Objects of a PDF that are a page; {@code /Pages} is their list. */
  private static final Pattern PAGE = Pattern.compile("/Type /Page\\b(?!s)");

  private static Chromium chromium;
  private static LotService service;

  @BeforeAll
  static void serve() throws Exception {
    chromium = Chromium.start();
    service =
        new LotService(
            new StoredLots(7)
                .lot("Barley-2", 14, 0.009, "window", 2, 1, 8)
                .lot("Thistle-5", 16, 0.027, "window", 2, 1, 8)
                .lot("Sorrel-1", 8, 0.009, "stove", 1, 15)
                .lot("Yarrow, late", 1, 0.009, "window", 1, 1));
    screenBy(LIMITS);
  }

  @AfterAll
  static void stop() {
    chromium.close();
    service.close();
  }

  @AfterEach
  void nothingWasComplainedOf() {
    assertThat(chromium.complaints()).isEmpty();
  }

  private static void screenBy(String limits) {
    service.http.send("PUT", "/api/screening-limits", "application/json", limits);
  }

  private static void open(String page) {
    chromium.resize(1366, 900);
    chromium.driver().get(service.http.base() + page);
    await().atMost(PATIENCE).until(() -> !chromium.text("h1").contains("Asking"));
    if (page.contains("?lots=")) {
      await().atMost(PATIENCE).until(() -> !chromium.all("html[data-whole]").isEmpty());
    }
  }

  @Test
  void theFindingIsTheHeadlineAndEveryUnitADotWithItsNameThatLeadsToIt() {
    open(BOTH);
    assertThat(chromium.text("#headline"))
        .matches("Thistle.5’s coefficients are \\d\\.\\d times as large as Barley.2’s .*limit");
    assertThat(chromium.text(".advice")).startsWith("Reject ");
    assertThat(chromium.texts("#units-drawn .dots a text")).hasSize(30).contains("Barley2-0003");
    assertThat(chromium.texts("#units-drawn .dots text"))
        .anyMatch(t -> t.matches("0\\.0\\d+ ± .*"));
    assertThat(chromium.texts("#units tbody tr").get(0)).contains("reject", "over 0.0400");
    assertThat(chromium.text("#numbers")).contains("Welch, p ", "SizeThistle-5 over Barley-2");
    assertThat(chromium.text("#numbers")).contains("SpreadBrown-Forsythe, p = ");
    assertThat(chromium.text("#warm-ups .sentence")).contains("time constants");
    assertThat(chromium.all("#curves canvas")).hasSize(3);
    String worst = chromium.text("#units tbody .unit a");
    chromium.one("#units tbody .unit a").click();
    await().atMost(PATIENCE).until(() -> chromium.driver().getCurrentUrl().contains("/tracker/"));
    assertThat(chromium.driver().getCurrentUrl()).endsWith(worst);
    chromium.driver().navigate().back();
    await().atMost(PATIENCE).until(() -> !chromium.all("#units-drawn .dots a").isEmpty());
    // A stored soak has figures, but no terms for the page of its tracker.
    chromium.complaints();
    String drawn = "#units-drawn .dots a[href=\"/tracker/Barley2-0003\"]";
    assertThat(chromium.texts(drawn)).hasSize(1);
  }

  @Test
  void lotsThatShareNoDayAreWarnedOfInTheFindingsPlaceWithTheCountsBeside() {
    open(APART);
    assertThat(chromium.text("#headline")).isEqualTo("Can’t tell lot from day and rack");
    assertThat(chromium.all("#headline svg")).hasSize(1);
    assertThat(chromium.texts("#head .todo li"))
        .contains("Soak six or more units of each lot on one day.");
    assertThat(chromium.text("#head .blocks")).contains("day: shared by none");
    assertThat(chromium.texts("#head .blocks tbody tr")).contains("stove–8", "window16–");
    assertThat(chromium.text("#grey"))
        .startsWith("Seen, but not shown to be the lots’: Thistle-5’s coefficients are ");
    assertThat(chromium.one("#grey").getCssValue("color"))
        .isNotEqualTo(chromium.one("#units-drawn h2").getCssValue("color"));
  }

  @Test
  void whatIsComparedStandsInTheAddressAndTheBrowsersBackLeadsBack() {
    open(BOTH);
    new Select(chromium.one("#metric")).selectByValue("bias_x_dps");
    await().atMost(PATIENCE).until(() -> chromium.text("#units-drawn").contains("Bias of x, °/s"));
    chromium.one("#at_c").sendKeys("30", Keys.ENTER);
    await().atMost(PATIENCE).until(() -> chromium.text("#units-drawn").contains("at 30 °C"));
    assertThat(chromium.all("#curves canvas")).as("of that axis only").hasSize(1);
    assertThat(chromium.driver().getCurrentUrl())
        .endsWith("lots=Barley-2&lots=Thistle-5&metric=bias_x_dps&at_c=30");
    new Select(chromium.one("#add")).selectByValue("Yarrow, late");
    await().atMost(PATIENCE).until(() -> chromium.text("#numbers").contains("Yarrow, late"));
    chromium.driver().navigate().back();
    await().atMost(PATIENCE).until(() -> !chromium.text("#numbers").contains("Yarrow, late"));
    chromium.one("[aria-label=\"Take Barley-2 out\"]").click();
    await().atMost(PATIENCE).until(() -> chromium.all("#chosen .chip").size() == 1);
    assertThat(chromium.<String>ask("document.activeElement.id")).isEqualTo("add");
  }

  @Test
  void aLotOfOneUnitIsShownAndSaysWhyNothingIsKnownOfItsSpread() {
    open("lots/compare?lots=Yarrow%2C+late");
    assertThat(chromium.texts("#units-drawn .dots a")).hasSize(1);
    assertThat(chromium.text("#numbers")).contains("One lot alone", "needs 59 units");
    assertThat(chromium.text("#curves .sentence")).contains("needs 6 units; there are 1");
    assertThat(chromium.text("#together")).contains("day", "window").doesNotContain("not recorded");
    open("lots/compare?lots=Yarrow%2C+late&lots=Barley-2");
    assertThat(chromium.text("#numbers")).contains("Too few").doesNotContain("Figures alike");
  }

  @Test
  void aLotThatIsNotThereIsSaidWithTheNearestName() {
    for (String page : List.of("lots?lot=Barly-2", "lots/compare?lots=Barly-2")) {
      chromium.driver().get(service.http.base() + page);
      await().atMost(PATIENCE).until(() -> !chromium.all(".notice").isEmpty());
      assertThat(chromium.text(".notice")).contains("did you mean \"Barley-2\"?");
      assertThat(chromium.text("h1")).isEqualTo("Nothing to show");
      // The browser tells of the refusal itself.
      assertThat(chromium.complaints()).allMatch(c -> c.contains("the server responded with a"));
    }
  }

  @Test
  void lotsAreListedWithWhatIsToBeDecidedAndChosenToBeCompared() {
    open("lots");
    assertThat(chromium.text("h1")).matches("\\d units to reject, \\d+ to look at again");
    assertThat(chromium.texts("#list tbody tr")).hasSize(4);
    chromium.one("[data-key=\"choose Barley-2\"]").click();
    assertThat(chromium.text("#choice-count")).contains("choose another");
    chromium.one("[data-key=\"choose Thistle-5\"]").click();
    chromium.one("#compare").click();
    await().atMost(PATIENCE).until(() -> chromium.text("h1").contains("times as large"));
    assertThat(chromium.driver().getCurrentUrl()).endsWith(BOTH);
    open("lots/compare");
    await().atMost(PATIENCE).until(() -> chromium.all("#chosen .chip").size() == 2);
    assertThat(chromium.driver().getCurrentUrl())
        .as("the first two")
        .endsWith("lots=Barley-2&lots=Sorrel-1");
  }

  @Test
  void limitsForScreeningAreTriedOnTheUnitsBeforeTheyAreSaved() {
    open("lots?lot=Thistle-5");
    assertThat(chromium.text("#figures")).contains("0 outside 28.0 to 34.0");
    assertThat(chromium.text("#figures")).contains("16 units without it, the first: ");
    String before = chromium.text("h1");
    assertThat(before).matches("Thistle-5: \\d of 16 units to reject, \\d to look at again");
    chromium.one("#reject-greatest_tempco_dps_per_c").clear();
    chromium.one("#reject-greatest_tempco_dps_per_c").sendKeys("0.02", Keys.ENTER);
    await().atMost(PATIENCE).until(() -> chromium.text("#wrong").length() > 10);
    assertThat(chromium.text("#wrong")).contains("Mend what is listed");
    chromium.complaints();
    chromium.one("#again-greatest_tempco_dps_per_c").clear();
    chromium.one("#again-greatest_tempco_dps_per_c").sendKeys("0.01", Keys.ENTER);
    await().atMost(PATIENCE).until(() -> chromium.one("#preview").isDisplayed());
    assertThat(chromium.text("#preview-title")).matches("0 accept, .* reject; now \\d+ accept, .*");
    assertThat(chromium.text("#preview-units")).contains("by these", "over 0.0200");
    assertThat(chromium.text("h1")).as("nothing is saved yet").isEqualTo(before);
    chromium.one("#save").click();
    await().atMost(PATIENCE).until(() -> !chromium.text("h1").equals(before));
    await().atMost(PATIENCE).until(() -> chromium.text("#said").startsWith("Saved."));
    assertThat(chromium.text("#units tbody")).contains("over 0.0200");
    screenBy(LIMITS);
  }

  @Test
  void theReportPrintsOnTwoPages() {
    open("lots/report?lots=Barley-2&lots=Thistle-5");
    assertThat(chromium.text(".finding")).contains("times as large");
    assertThat(chromium.texts("h2"))
        .containsExactly(
            "Every unit",
            "Bias curves, one over another",
            "How the lots are spread",
            "Warm-up curves",
            "Units that need a decision",
            "In numbers",
            "Measured together?");
    assertThat(chromium.<Long>ask(EMPTY_PICTURES)).isZero();
    Map<String, Object> a4 = Map.of("paperWidth", 210 / 25.4, "paperHeight", 297 / 25.4);
    String pdf = (String) chromium.driver().executeCdpCommand("Page.printToPDF", a4).get("data");
    String text = new String(Base64.getDecoder().decode(pdf), StandardCharsets.ISO_8859_1);
    assertThat(text).startsWith("%PDF-");
    assertThat(PAGE.matcher(text).results().count()).as("pages").isBetween(1L, 2L);
  }

  @Test
  @Tag("bench")
  void threeLotsOfTwentyFiveUnitsAreDrawnWithinTwoSeconds() throws Exception {
    StoredLots lots = new StoredLots(9);
    for (String name : List.of("Fern-1", "Fern-2", "Fern-3")) {
      lots.lot(name, 25, 0.009, "window", 2, 1, 8);
    }
    try (LotService own = new LotService(lots)) {
      String page = own.http.base() + "lots/compare?lots=Fern-1&lots=Fern-2&lots=Fern-3";
      for (String when : List.of("first", "again")) {
        chromium.driver().get(page);
        await()
            .pollInterval(Duration.ofMillis(20))
            .until(() -> !chromium.all("html[data-whole]").isEmpty());
        double ms = chromium.<Number>ask("performance.now()").doubleValue();
        System.out.printf("three lots of 25 units, %s: drawn after %.0f ms%n", when, ms);
        // The first answer is that of a program that has only just started.
        assertThat(ms).isLessThan(when.equals("first") ? 10_000 : 2000);
      }
    }
  }

  private static final String EMPTY_PICTURES =
      "[...document.querySelectorAll('.picture .wide')].filter(s => s.clientWidth < 50"
          + " || s.querySelectorAll('path').length < 5).length";

  @Test
  void everybodyCanUseThePagesOfWholeLotsOnScreensOfAllWidths() {
    for (String page : List.of("lots", "lots?lot=Thistle-5", BOTH, APART)) {
      open(page);
      for (int width : new int[] {390, 1366, 1920}) {
        chromium.resize(width, 900);
        await(page + " at " + width + " px")
            .atMost(PATIENCE)
            .until(() -> chromium.<Long>ask("document.documentElement.scrollWidth") <= width);
      }
      await(page).atMost(PATIENCE).untilAsserted(() -> assertThat(Axe.serious(chromium)).isEmpty());
    }
    chromium.scheme("dark");
    await()
        .atMost(PATIENCE)
        .untilAsserted(() -> assertThat(Axe.seriousOfColours(chromium)).isEmpty());
    chromium.scheme("light");
    // Axe reads pixels back.
    assertThat(chromium.complaints()).allMatch(c -> c.contains("Canvas2D: Multiple readback"));
  }
}
