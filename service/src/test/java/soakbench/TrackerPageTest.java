package soakbench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIf;
import soakbench.api.http.Json;
import soakbench.model.Soak;

/** The page of one tracker: what it tells, and its states. */
@EnabledIf(value = "soakbench.Chromium#isThere", disabledReason = "Chromium is not there")
class TrackerPageTest extends OnATrackerPage {
  @Test
  void aSoakIsToldWholeAndGoesOnWithoutReloading() throws Exception {
    service.post(WarmUps.lines(ID, START, 0, 1500, 20, 31.3));
    open(ID);
    awaitFigures();
    assertThat(chromium.text("#head .word")).isEqualTo("ready");
    assertThat(chromium.text("#head h1")).isEqualTo(ID);
    assertThat(chromium.texts(".lane-name"))
        .containsExactly(
            "State",
            "Temperature °C",
            "Bias x °/s",
            "Bias y °/s",
            "Bias z °/s",
            "Motion spread, °/s",
            "Marks told and seen");
    assertThat(chromium.text("#story .sentence")).contains("Ready since", "It levels at 31.3 ±");
    assertThat(chromium.texts(".conditions:not(.checks) li")).hasSize(8);
    assertThat(chromium.text("#bias .sentence")).contains("on ", "the steepest");
    assertThat(chromium.texts("#noise tbody th")).containsExactly("x", "y", "z");
    assertThat(chromium.text("#terms")).contains("operating band", "28 to 34 °C");
    String marker = "window.neverReloaded = true";
    chromium.driver().executeScript(marker);
    String before = chromium.text(".lane.temperature .lane-value");
    service.post(WarmUps.lines(ID, START, 1500, 1560, 24, 35));
    await()
        .atMost(PATIENCE)
        .until(() -> !chromium.text(".lane.temperature .lane-value").equals(before));
    assertThat(chromium.<Boolean>ask("window.neverReloaded === true")).isTrue();
    assertThat(chromium.complaints()).isEmpty();
    assertThat(foreignRequests()).isEmpty();
  }

  @Test
  void itIsRightAtEachWidthInLightAndDark() throws Exception {
    service.post(WarmUps.lines(ID, START.minusSeconds(90_000), 0, 900, 20, 30));
    service.post(WarmUps.lines(ID, START, 0, 700, 20, 31.3));
    service.roster(ID, "A name as long as somebody in a hurry should never give it, but did");
    service.deriveFigures();
    open(ID);
    awaitFigures();
    await().atMost(PATIENCE).until(() -> chromium.all("#soaks li").size() == 2);
    for (String scheme : List.of("light", "dark")) {
      chromium.scheme(scheme);
      for (int width : new int[] {390, 1366, 1920}) {
        chromium.resize(width, 900);
        await().atMost(PATIENCE).until(() -> chromium.<Boolean>ask(FITTED));
        assertThat(chromium.<Long>ask("document.documentElement.scrollWidth"))
            .as("at width %d", width)
            .isLessThanOrEqualTo(width);
        assertThat(chromium.<Boolean>ask(INKED)).as("%s at %d", scheme, width).isTrue();
      }
    }
    assertThat(chromium.text("#changed")).startsWith("Since the soak of Sun 1 Mar");
    assertThat(chromium.text("#soaks .sentence")).contains("All soaks together:");
    assertThat(chromium.complaints()).isEmpty();
    chromium.scheme("light");
    chromium.resize(1366, 900);
    anEarlierSoakThatIsLeftOutIsShownAsSuch();
  }

  private void anEarlierSoakThatIsLeftOutIsShownAsSuch() {
    String earlier = ID + "@20260301T070000000Z";
    Soak soak = database.archive().soak(earlier).orElseThrow();
    database.leftOut().put(soak, "the blanket had slipped");
    open(ID + "?soak=" + earlier);
    await().atMost(PATIENCE).until(() -> chromium.all("#soaks .left-out").size() == 1);
    assertThat(chromium.text("#soaks .left-out")).contains("left out: the blanket had slipped");
    assertThat(chromium.text("#changed")).startsWith("Left out of the tracker’s figures: the");
    assertThat(chromium.text("#head .word")).isEqualTo("earlier soak");
    assertThat(chromium.text("#head .step")).contains("Its newest soak");
    open(ID + "?soak=none");
    await().atMost(PATIENCE).until(() -> notices().contains("No soak “none” of this tracker"));
  }

  /** Whether each chart is as wide as its place. */
  private static final String FITTED =
      "[...document.querySelectorAll('.lane-chart, .panel-chart')].filter(e => e.clientWidth)"
          + ".every(e => e.querySelector('.uplot').clientWidth === e.clientWidth)";

  /** Whether every canvas that is shown has something drawn on it. */
  private static final String INKED =
      "[...document.querySelectorAll('canvas')].filter(c => c.clientWidth).every(c => { const small"
          + " = new OffscreenCanvas(64, 64).getContext('2d', {willReadFrequently: true});"
          + " small.drawImage(c, 0, 0, 64, 64); return small.getImageData(0, 0, 64, 64).data.some(v"
          + " => v); })";

  @Test
  void aTrackerThatWasNeverHeardIsSaidToBeSoWithWhatToDo() throws Exception {
    open("Nobody-1");
    await().atMost(PATIENCE).until(() -> chromium.text("#empty").contains("was ever heard"));
    assertThat(chromium.text("#empty")).contains("“Nobody-1”", "soakbench ports");
    service.roster("Listed-1", "Listed");
    open("Listed-1");
    await().atMost(PATIENCE).until(() -> chromium.text("#empty").contains("Never heard yet"));
    assertThat(chromium.text("#head h1")).isEqualTo("Listed");
    service.post(WarmUps.lines("Listed-1", START, 0, 60, 24, 31));
    await().atMost(PATIENCE).until(() -> chromium.text("#head .word").equals("starting"));
    assertThat(chromium.complaints()).isEmpty();
  }

  @Test
  void aTrackerThatWasTakenOffShowsItsLastSoakAndSaysHowOldItIs() throws Exception {
    service.post(WarmUps.lines(ID, START, 0, 900, 20, 31));
    service.takenOff(soakOf(ID));
    open(ID);
    awaitFigures();
    assertThat(chromium.text("#head .word")).isEqualTo("not soaking");
    assertThat(chromium.text("#head .step")).startsWith("Last heard ").contains("ago", "last soak");
    assertThat(chromium.all(".slab[data-old]")).hasSize(1);
    assertThat(chromium.one("#conditions").isDisplayed()).isFalse();
    assertThat(chromium.text("#story .sentence"))
        .contains("then taken off", "First ready after 14 min");
    assertThat(chromium.complaints()).isEmpty();
  }

  @Test
  void aDatabaseThatIsAwayAndAServiceThatIsLostAreSaid() throws Exception {
    service.post(WarmUps.lines(ID, START, 0, 700, 20, 31));
    open(ID);
    awaitFigures();
    database.close();
    chromium.driver().navigate().refresh();
    await().atMost(PATIENCE).until(() -> notices().contains("database is away"));
    assertThat(notices()).contains("asked again by itself");
    service.close();
    await().atMost(PATIENCE).until(() -> notices().contains("Connection to the service lost"));
    assertThat(notices()).contains("old. Trying again by itself");
    assertThat(chromium.complaints())
        .allMatch(line -> line.contains("503") || line.contains("net::ERR_"));
  }

  private static String notices() {
    return String.join(" ", chromium.texts(".notice"));
  }

  private List<String> foreignRequests() {
    List<String> all = chromium.ask("performance.getEntriesByType('resource').map(r => r.name)");
    assertThat(all).hasSizeGreaterThan(20);
    return all.stream().filter(url -> !url.startsWith(service.url().toString())).toList();
  }

  private String soakOf(String tracker) throws IOException, InterruptedException {
    JsonNode soaks = Json.mapper().readTree(service.get("api/soaks?tracker=" + tracker));
    return soaks.get("soaks").get(0).get("soak").asText();
  }
}
