package soakbench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.Map;
import javax.xml.parsers.DocumentBuilderFactory;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIf;
import org.junit.jupiter.api.io.TempDir;
import org.openqa.selenium.Keys;

/** The charts of a tracker's page: what can be taken from them, the keyboard, ten hours. */
@EnabledIf(value = "soakbench.Chromium#isThere", disabledReason = "Chromium is not there")
class TrackerChartsTest extends OnATrackerPage {
  private static final int LONG_S = 36_000;

  @TempDir Path downloads;

  @Test
  void whatIsShownCanBeCopiedAndSaved() throws Exception {
    service.post(WarmUps.lines(ID, START, 0, 700, 20, 31));
    open(ID);
    awaitFigures();
    chromium
        .driver()
        .executeCdpCommand(
            "Page.setDownloadBehavior",
            Map.of("behavior", "allow", "downloadPath", downloads.toString()));
    take("conditions", "CSV");
    String[] rows = Files.readString(saved("conditions.csv")).split("\r\n");
    assertThat(rows).hasSize(9);
    assertThat(rows[0]).startsWith("condition,met,value,");
    take("conditions", "SVG");
    assertThat(Files.readString(saved("conditions.svg"))).contains("temperature settled", "°C/min");
    take("story", "SVG");
    String svg = Files.readString(saved("story.svg"));
    assertThat(svg).contains("Temperature, °C", "Bias z, °/s", "warming");
    assertThat(
            DocumentBuilderFactory.newInstance()
                .newDocumentBuilder()
                .parse(saved("story.svg").toFile())
                .getElementsByTagName("path")
                .getLength())
        .isGreaterThan(20);
    take("bias", "PNG");
    assertThat(Files.readAllBytes(saved("bias.png"))).startsWith(0x89, 'P', 'N', 'G');
    // Only what a person does may write to the clipboard.
    chromium.one("#heading .take button").click();
    await().atMost(PATIENCE).until(() -> chromium.text("#heading .taken").equals("copied"));
    chromium.one("#bias .as-table summary").click();
    await().atMost(PATIENCE).until(() -> chromium.all("#bias .numbers th").size() == 6);
    assertThat(chromium.texts("#bias .numbers th")).contains("temperature (°C)", "bias (°/s)");
    assertThat(chromium.complaints()).isEmpty();
  }

  @Test
  void theKeyboardZoomsAndReachesWhatCanBeTaken() throws Exception {
    service.post(WarmUps.lines(ID, START, 0, 900, 20, 31));
    open(ID);
    awaitFigures();
    chromium.press(Keys.TAB);
    assertThat(chromium.focused()).isEqualTo("Skip to this soak");
    chromium.driver().executeScript("document.querySelector('.story').focus()");
    chromium.press(Keys.ADD);
    await().atMost(PATIENCE).until(() -> rangeWords().startsWith("Shown: "));
    String first = rangeWords();
    chromium.press(Keys.ARROW_LEFT);
    assertThat(rangeWords()).isNotEqualTo(first);
    chromium.driver().switchTo().activeElement().sendKeys("0");
    await().atMost(PATIENCE).until(() -> rangeWords().startsWith("Drag over"));
    assertThat(chromium.texts(".story[tabindex=\"0\"][role=\"group\"]")).hasSize(1);
    assertThat(
            chromium.<Long>ask(
                "[...document.querySelectorAll('.lane-chart, .panel-chart')].filter("
                    + "e => e.clientWidth && !e.ariaLabel).length"))
        .isZero();
  }

  /** Verdicts are asked for and told; what says nothing new has nothing read again. */
  @Test
  void theRowsOfASoakWithoutNewsAreReadOnce() throws Exception {
    service.post(WarmUps.lines(ID, START, 0, 900, 20, 31));
    open(ID);
    awaitFigures();
    // Twice the pause after which it would read again.
    await().atMost(PATIENCE).until(() -> chromium.<Boolean>ask("performance.now() > 11000"));
    assertThat(times("bins?")).isEqualTo(1);
  }

  /** How many answers the page has of calls like this. */
  private static long times(String call) {
    return chromium
        .<Number>ask(
            "performance.getEntriesByType('resource').filter(e => e.name.includes('%s')).length"
                .formatted(call))
        .longValue();
  }

  /** Wanted are 300 and 100 ms, below; other programs run beside this one. */
  @Test
  void tenHoursAreDrawnAndZoomedQuicklyWithNoMorePointsThanPixels() throws Exception {
    drawTenHours(900, 300);
  }

  /** Run by {@code mvn -B test -Pbench -Dtest=TrackerChartsTest} on an idle machine. */
  @Test
  @Tag("bench")
  void tenHoursAreDrawnInThreeTenthsOfASecondAndZoomedInOne() throws Exception {
    drawTenHours(300, 100);
  }

  private void drawTenHours(double mostFirstMs, double mostZoomMs) throws Exception {
    service.post(soakbench.api.Lines.warmUp(ID, micros(START), LONG_S, 1));
    open(ID);
    awaitFigures();
    double firstMs = drawn("story first");
    long points = points("story first");
    chromium.driver().executeScript("document.querySelector('.story').focus()");
    chromium.press(Keys.ADD);
    await().atMost(PATIENCE).until(() -> drawn("story refined") > 0);
    double zoomMs = drawn("story zoom");
    double refinedMs = drawn("story refined");
    System.out.printf(
        "ten hours: drawn in %.0f ms, zoomed in %.0f ms, refined in %.0f ms, %d points%n",
        firstMs, zoomMs, refinedMs, points);
    assertThat(firstMs).isPositive().isLessThan(mostFirstMs);
    assertThat(zoomMs).isPositive().isLessThan(mostZoomMs);
    assertThat(refinedMs).isPositive().isLessThan(mostZoomMs);
    Long width = chromium.ask("document.querySelector('.lane canvas').clientWidth");
    assertThat(points).isLessThanOrEqualTo(width).isGreaterThan(width / 3);
    long bytes = chromium.<Number>ask(WEIGHT).longValue();
    System.out.printf("the page with its ten hours weighs %d bytes%n", bytes);
    assertThat(bytes).isPositive().isLessThan(MOST_BYTES);
  }

  /** The page and all that it asked for until then but the stretch that was zoomed into. */
  private static final String WEIGHT =
      "['navigation', 'resource'].flatMap(kind => performance.getEntriesByType(kind))"
          + ".filter(entry => !/bins\\?.*from=/.test(entry.name))"
          + ".reduce((sum, entry) => sum + entry.encodedBodySize, 0)";

  private static final long MOST_BYTES = 250 << 10;

  private static long points(String name) {
    return chromium.<Number>ask(measure(name, "detail.points")).longValue();
  }

  private static String rangeWords() {
    return chromium.text(".range-words");
  }

  private static void take(String figure, String what) {
    chromium
        .driver()
        .executeScript(
            "[...document.querySelectorAll('#"
                + figure
                + " .take button')]"
                + ".find(b => b.textContent === '"
                + what
                + "').click()");
  }

  private Path saved(String end) throws IOException {
    await().atMost(PATIENCE).until(() -> find(end) != null);
    return find(end);
  }

  private Path find(String end) throws IOException {
    try (var files = Files.list(downloads)) {
      return files.filter(f -> f.getFileName().toString().endsWith(end)).findFirst().orElse(null);
    }
  }

  private static long micros(Instant instant) {
    return instant.toEpochMilli() * 1000;
  }
}
