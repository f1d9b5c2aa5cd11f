package soakbench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.net.URI;
import java.time.Instant;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIf;

/** The board with one tracker and with 120, on screens of three sizes, light and dark. */
@EnabledIf(value = "soakbench.Chromium#isThere", disabledReason = "Chromium is not there")
class BoardManyTest extends OnABoard {
  private static final Instant START = RunningService.START;
  private static final List<String> NAMES = List.of("Alder", "Hawthorn", "Maple", "Dogwood");

  /** Of the screen's height, so that it is read from three metres. */
  private static final double LEAST_LETTER = 1 / 45.0;

  private static final DateTimeFormatter CLOCK =
      DateTimeFormatter.ofPattern("HH:mm:ss").withZone(ZoneId.systemDefault());

  private static final int READY_S = 1200;

  private static final double MOST_TASK_S = 0.2;
  private static final long MOST_BYTES = 250 * 1024;

  @AfterEach
  void light() {
    chromium.scheme("light");
  }

  @Test
  void fromOneToADozenAreFullTilesUpToFortySmallOnesAndMoreAreListed() throws Exception {
    for (Map.Entry<Integer, String> each :
        Map.of(1, "full", 12, "full", 13, "compact", 40, "compact", 41, "list").entrySet()) {
      assertThat(
              inThePage(
                  "const { formOf } = await import('/js/form.js'); return formOf("
                      + each.getKey()
                      + ", { width: 1920, height: 1080 }, null);"))
          .as("%d trackers", each.getKey())
          .isEqualTo(each.getValue());
    }
    assertThat(
            inThePage(
                "const { formOf } = await import('/js/form.js'); const at = (n, w, h, c) =>"
                    + " formOf(n, { width: w, height: h }, c); return [at(1, 390, 844, null),"
                    + " at(12, 1366, 768, null), at(3, 1366, 768, null), at(120, 1920, 1080,"
                    + " 'bench'), at(2, 1920, 1080, 'nonsense')].join(' ');"))
        .isEqualTo("list compact full bench full");
  }

  @Test
  void fortyStandOnOneBenchScreenWithThoseThatCallInFull() throws Exception {
    rack(40, 6, 60);
    for (String scheme : List.of("light", "dark")) {
      chromium.scheme(scheme);
      openBoard();
      await().atMost(PATIENCE).until(() -> chromium.all("#calls li").size() == 5);
      await().atMost(PATIENCE).until(() -> chromium.all(".tile").size() == 40);
      await()
          .atMost(PATIENCE)
          .until(() -> chromium.text("#headline").matches("Next: \\S+ \\d+, slot \\S+"));
      assertThat(chromium.<Long>ask("document.documentElement.scrollHeight"))
          .as(scheme)
          .isLessThanOrEqualTo(1080);
      theSameNumberStandsOnTheBench();
      isReadAtThreeMetres("#headline", ".call b", ".call .slot");
    }
    assertThat(chromium.complaints()).isEmpty();
  }

  private static void theSameNumberStandsOnTheBench() {
    String numbers =
        "[...document.querySelectorAll('%s')].map(e => e.querySelector('.order').textContent + ' '"
            + " + e.querySelector('%s').textContent).sort().join()";
    String bench = chromium.ask(numbers.formatted(".tile[data-calls]", ".name"));
    String large = chromium.ask(numbers.formatted(".call", "b"));
    assertThat(bench.split(",")).hasSize(6).contains(large.split(","));
    assertThat(bench).startsWith("1 ").doesNotContain("null");
  }

  /** Height of a letter without ascender, by the typeface's own measure. */
  private static void isReadAtThreeMetres(String... selectors) {
    for (String selector : selectors) {
      List<Number> heights =
          chromium.ask(
              "[...document.querySelectorAll('"
                  + selector
                  + "')].map(e => { const s = getComputedStyle(e);"
                  + " const c = document.createElement('canvas').getContext('2d');"
                  + " c.font = s.fontWeight + ' ' + s.fontSize + ' ' + s.fontFamily;"
                  + " return c.measureText('x').actualBoundingBoxAscent; })");
      assertThat(heights)
          .as(selector)
          .isNotEmpty()
          .allSatisfy(
              px -> assertThat(px.doubleValue()).isGreaterThanOrEqualTo(1080 * LEAST_LETTER));
    }
  }

  @Test
  void namesAndSlotsThatCallAreReadAtThreeMetresInFullTilesToo() throws Exception {
    rack(12, 3, 60);
    openBoard();
    await().atMost(PATIENCE).until(() -> chromium.all(".tile[data-calls]").size() == 3);
    isReadAtThreeMetres("#headline", ".tile[data-calls] .name", ".tile[data-calls] .slot");
    assertThat(chromium.all("#calls li")).as("they are large where they lie").isEmpty();
  }

  @Test
  void aHundredAndTwentyAreAListThatIsSortedByWhoIsNextAndFiltered() throws Exception {
    rack(120, 2, 30);
    openBoard();
    await().atMost(PATIENCE).until(() -> chromium.all(".tile").size() == 120);
    await().atMost(PATIENCE).until(() -> chromium.all(".tile[data-calls]").size() == 2);
    assertThat(chromium.<String>ask("document.querySelector('.tile .order').textContent"))
        .isEqualTo("1");
    choose("rack", "stove bench");
    await().atMost(PATIENCE).until(() -> chromium.all(".tile").size() == 60);
    choose("state", "ready");
    await().atMost(PATIENCE).until(() -> chromium.all(".tile").size() == 1);
    assertThat(chromium.text(".shown")).isEqualTo("1 shown");
    assertThat(chromium.text("#headline")).as("the answer is of all").startsWith("Next: ");
  }

  /** Once it can be chosen: racks and lots are answered after the trackers. */
  private static void choose(String field, String value) {
    String option = "#filters option[value='" + value + "']";
    await().atMost(PATIENCE).until(() -> !chromium.all(option).isEmpty());
    chromium
        .driver()
        .executeScript(
            "const label = [...document.querySelectorAll('#filters label')].find(l =>"
                + " l.textContent.toLowerCase().startsWith(arguments[0])); const s ="
                + " label.querySelector('select'); s.value = arguments[1]; s.dispatchEvent(new"
                + " Event('change'));",
            field,
            value);
  }

  @Test
  void theRackIsShownAsItStandsWhereSomebodyAsksForItAndThatIsRemembered() throws Exception {
    rack(13, 0, 30);
    place("away", "Nobody", "stove bench", "S9", "K14");
    openBoard();
    await().atMost(PATIENCE).until(() -> chromium.all(".tile").size() == 13);
    chromium
        .driver()
        .executeScript(
            "const s = document.querySelector('#view select'); s.value = 'bench';"
                + " s.dispatchEvent(new Event('change'))");
    openBoard();
    await().atMost(PATIENCE).until(() -> chromium.all(".tile").size() == 13);
    assertThat(chromium.one("#trackers").getAttribute("data-form")).isEqualTo("bench");
    await()
        .atMost(PATIENCE)
        .until(() -> chromium.texts(".nobody").equals(List.of("S9 nothing heard")));
    chromium.driver().executeScript("localStorage.clear()");
  }

  @Test
  void nothingRunsOffTheSideWithManyAndThoseThatCallStandAboveTheFoldOfALaptop() throws Exception {
    rack(40, 4, 30);
    openBoard();
    for (int width : new int[] {390, 1366, 1920}) {
      chromium.resize(width, width == 390 ? 844 : 768);
      await().atMost(PATIENCE).until(() -> chromium.all(".tile[data-calls]").size() == 4);
      await("at width " + width)
          .atMost(PATIENCE)
          .until(() -> chromium.<Long>ask("document.documentElement.scrollWidth") <= width);
    }
    chromium.resize(1366, 768);
    await().atMost(PATIENCE).until(() -> chromium.all("#calls li").size() == 3);
    for (String selector : List.of("#slab", "#calls")) {
      Number bottom =
          chromium.ask("document.querySelector('" + selector + "').getBoundingClientRect().bottom");
      assertThat(bottom.doubleValue()).as(selector).isLessThanOrEqualTo(768);
    }
  }

  @Test
  void onAWallNothingIsToBeClicked() throws Exception {
    rack(3, 0, 30);
    chromium.driver().get(service.url() + "?wall");
    await().atMost(PATIENCE).until(() -> chromium.all(".tile").size() == 3);
    assertThat(chromium.one("#view").isDisplayed()).isFalse();
    assertThat(chromium.one("nav").isDisplayed()).isFalse();
    assertThat(chromium.one("#headline").isDisplayed()).isTrue();
  }

  @Test
  void thePageIsLightAsksNobodyElseAndIsThereWithinASecond() throws Exception {
    rack(12, 0, 30);
    openBoard();
    await().atMost(PATIENCE).until(() -> chromium.all(".tile").size() == 12);
    Number bytes =
        chromium.ask(
            "performance.getEntriesByType('resource').concat(performance.getEntriesByType("
                + "'navigation')).filter(e => !e.name.includes('/api/') &&"
                + " !e.name.endsWith('/health')).reduce((sum, e) => sum + e.decodedBodySize, 0)");
    assertThat(bytes.longValue()).isBetween(20_000L, MOST_BYTES);
    List<String> asked = chromium.ask("performance.getEntriesByType('resource').map(e => e.name)");
    assertThat(asked).isNotEmpty();
    assertThat(asked.stream().map(URI::create).map(URI::getAuthority).collect(Collectors.toSet()))
        .containsExactly(service.url().getAuthority());
    Number paintMs =
        chromium.ask("performance.getEntriesByName('first-contentful-paint')[0].startTime");
    assertThat(paintMs.doubleValue()).isLessThan(1_000);
    assertThat(chromium.complaints()).isEmpty();
  }

  @Test
  @Tag("bench")
  void aHundredAndTwentyThatChangeEachSecondKeepThePageQuiet() throws Exception {
    keepsQuiet(8);
  }

  @Test
  @Tag("bench")
  void aHundredAndTwentyThatChangeEachSecondKeepThePageQuietForTenMinutes() throws Exception {
    keepsQuiet(600);
  }

  /** The browser's own count of what its main thread did, and its heap after a collection. */
  private void keepsQuiet(int seconds) throws Exception {
    rack(120, 0, 20);
    openBoard();
    await().atMost(PATIENCE).until(() -> chromium.all(".tile").size() == 120);
    chromium.driver().executeCdpCommand("Performance.enable", Map.of());
    long heap = heap();
    double before = metric("TaskDuration");
    long beganNs = System.nanoTime();
    for (int s = 0; s < seconds; s++) {
      second(120, 20 + s);
      Thread.sleep(Math.max(0, (beganNs - System.nanoTime()) / 1_000_000 + 1000L * (s + 1)));
    }
    double tookS = (System.nanoTime() - beganNs) / 1e9;
    double taskS = (metric("TaskDuration") - before) / tookS;
    long grown = heap() - heap;
    System.out.printf(
        "120 trackers, %.0f s: %.0f ms of the main thread a second, heap %d kB, grown by %d kB%n",
        tookS, 1000 * taskS, heap / 1024, grown / 1024);
    assertThat(chromium.<Long>ask("document.querySelectorAll('.tile').length")).isEqualTo(120);
    showsOneOfTheLast(20 + seconds);
    assertThat(taskS).isPositive();
    assertThat(taskS).isLessThan(MOST_TASK_S);
    assertThat(grown).isLessThan(2_000_000L);
  }

  /** A page that had stopped would be quiet too. */
  private static void showsOneOfTheLast(int heardS) {
    String clock = chromium.text("#clock");
    assertThat(IntStream.rangeClosed(heardS - 5, heardS).mapToObj(START::plusSeconds))
        .as("the data clock says %s", clock)
        .anyMatch(at -> clock.endsWith(CLOCK.format(at)));
  }

  private static long heap() {
    chromium.driver().executeCdpCommand("HeapProfiler.collectGarbage", Map.of());
    return (long) metric("JSHeapUsedSize");
  }

  @SuppressWarnings("unchecked")
  private static double metric(String name) {
    List<Map<String, Object>> all =
        (List<Map<String, Object>>)
            chromium.driver().executeCdpCommand("Performance.getMetrics", Map.of()).get("metrics");
    return all.stream()
        .filter(m -> m.get("name").equals(name))
        .mapToDouble(m -> ((Number) m.get("value")).doubleValue())
        .findFirst()
        .orElseThrow();
  }

  /**
   * Cold and warm ones with names and places on two benches, heard for so long; the first of them
   * lie there longer and are ready.
   */
  private void rack(int count, int ready, int seconds) throws Exception {
    StringBuilder lines = new StringBuilder();
    StringBuilder roster = new StringBuilder("id,name,lot,rack,slot\n");
    for (int i = 1; i <= count; i++) {
      roster.append(row(i)).append('\n');
      lines.append(i <= ready ? warm(i, seconds) : lines(i, 0, seconds));
    }
    service.roster(roster.toString());
    service.post(lines.toString());
  }

  private static String warm(int i, int seconds) {
    Instant earlier = START.minusSeconds(READY_S);
    return WarmUps.lines("M-" + i, earlier, 0, READY_S + seconds, 20, 31);
  }

  private static String lines(int i, int fromS, int toS) {
    return WarmUps.lines("M-" + i, START, fromS, toS, 20 + i % 10, 24 + i % 9);
  }

  private void second(int count, int s) throws Exception {
    StringBuilder lines = new StringBuilder();
    for (int i = 1; i <= count; i++) {
      lines.append(lines(i, s, s + 1));
    }
    service.post(lines.toString());
  }

  private static String row(int i) {
    String side = i % 2 == 0 ? "window bench,W" : "stove bench,S";
    return "M-%d,%s %d,K1%d,%s%d".formatted(i, NAMES.get(i % 4), i, i % 3, side, (i + 1) / 2);
  }

  private void place(String id, String name, String rack, String slot, String lot)
      throws Exception {
    service.roster("id,name,lot,rack,slot\n" + String.join(",", id, name, lot, rack, slot) + "\n");
  }

  /** What a piece of script with the page's own modules answers. */
  private String inThePage(String script) {
    openBoard();
    return (String)
        chromium.driver().executeAsyncScript("(async () => {" + script + "})().then(arguments[0])");
  }

  private void openBoard() {
    chromium.complaints();
    chromium.driver().get(service.url().toString());
  }
}
