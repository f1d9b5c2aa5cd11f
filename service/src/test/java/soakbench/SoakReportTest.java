package soakbench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.Base64;
import java.util.List;
import java.util.Map;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIf;
import soakbench.api.http.Json;

/** The report of a soak: on the screen, and printed by the browser. */
@EnabledIf(value = "soakbench.Chromium#isThere", disabledReason = "Chromium is not there")
class SoakReportTest extends OnABoard {
  private static final Instant START = RunningService.START;
  private static final String ID = "Report-1";
  private static final double MM_PER_INCH = 25.4;
  private static final double PX_PER_INCH = 96;
  private static final double MARGIN_MM = 10;

  /** Objects of a PDF that are a page; {@code /Pages} is their list. */
  private static final Pattern PAGE = Pattern.compile("/Type /Page\\b(?!s)");

  @Test
  void itPrintsOnOnePageWithEveryFigureOnIt() throws Exception {
    service.post(WarmUps.lines(ID, START, 0, 1500, 20, 31.3));
    service.rates(ID, "Maple", "raw");
    service.calibratedNow(ID);
    service.post(WarmUps.offset(ID, START, 1500, 1600, 20, 31.3));
    service.findCalibrations();
    open(soakOf(ID));
    assertThat(chromium.text("h1")).isEqualTo("Soak of Maple");
    assertThat(chromium.texts("h2"))
        .containsExactly(
            "Course",
            "Bias, °/s, against temperature, °C",
            "Allan deviation, °/s; averaging time, s",
            "Limits of this soak",
            "Figures with 95 % intervals",
            "Calibration and check");
    assertThat(chromium.text(".verdict")).contains("Ready first after 14 min", "ready for");
    assertThat(chromium.text("#sheet")).contains("Calibrated Mon 2 Mar", "Coefficient", "N, °/√h");
    assertThat(chromium.text(".versions")).contains("Soakbench", "PostgreSQL");
    assertThat(chromium.texts("#pages a")).contains("Board", "Soaks", "Roster");
    assertThat(chromium.one("#pages").isDisplayed()).isTrue();
    assertPrints(210, 297);
    assertPrints(215.9, 279.4);
    assertThat(chromium.complaints()).isEmpty();
  }

  @Test
  void onAPhoneNothingRunsOffTheSide() throws Exception {
    service.post(WarmUps.lines(ID, START, 0, 700, 20, 31.3));
    chromium.resize(390, 844);
    open(soakOf(ID));
    assertThat(chromium.<Long>ask("document.documentElement.scrollWidth")).isLessThanOrEqualTo(390);
    assertThat(chromium.<Long>ask(SHOWN_PICTURES)).isEqualTo(10);
    assertThat(chromium.complaints()).isEmpty();
  }

  @Test
  void aSoakThatIsNotThereIsSaidToBeMissing() {
    chromium.driver().get(service.url() + "soak/none@1/report");
    await().atMost(PATIENCE).until(() -> chromium.text("h1").equals("No such soak"));
    assertThat(chromium.text("#sheet")).contains("“none@1”");
  }

  private static final String SHOWN_PICTURES =
      "[...document.querySelectorAll('.picture svg')].filter(s => s.clientWidth > 50"
          + " && s.querySelectorAll('path').length > 1).length";

  /** Width and height of the paper, mm. */
  private void assertPrints(double widthMm, double heightMm) {
    Map<String, Object> paper =
        Map.of("paperWidth", widthMm / MM_PER_INCH, "paperHeight", heightMm / MM_PER_INCH);
    String pdf = (String) chromium.driver().executeCdpCommand("Page.printToPDF", paper).get("data");
    String text = new String(Base64.getDecoder().decode(pdf), StandardCharsets.ISO_8859_1);
    assertThat(text).startsWith("%PDF-");
    assertThat(PAGE.matcher(text).results().count()).as("pages").isEqualTo(1);
    chromium.driver().executeCdpCommand("Emulation.setEmulatedMedia", Map.of("media", "print"));
    chromium.resize((int) ((widthMm - 24) / MM_PER_INCH * PX_PER_INCH), 900);
    assertThat(chromium.one("#pages").isDisplayed()).isFalse();
    double roomPx = (heightMm - 2 * MARGIN_MM) / MM_PER_INCH * PX_PER_INCH;
    assertThat(chromium.<Long>ask("document.querySelectorAll('.figure-part').length")).isEqualTo(6);
    for (Object bottom : chromium.<List<?>>ask(BOTTOMS)) {
      assertThat(((Number) bottom).doubleValue()).isLessThanOrEqualTo(roomPx);
    }
    assertThat(chromium.<Long>ask(SHOWN_PICTURES)).isEqualTo(10);
    chromium.driver().executeCdpCommand("Emulation.setEmulatedMedia", Map.of("media", ""));
    chromium.resize(1366, 900);
  }

  private static final String BOTTOMS =
      "[...document.querySelectorAll('.figure-part, .versions')]"
          + ".map(e => e.getBoundingClientRect().bottom)";

  private void open(String soak) {
    chromium.complaints();
    chromium.driver().get(service.url() + "soak/" + soak + "/report");
    await().atMost(PATIENCE).until(() -> !chromium.all("html[data-whole]").isEmpty());
  }

  private String soakOf(String tracker) throws Exception {
    return Json.mapper()
        .readTree(service.get("api/soaks?tracker=" + tracker))
        .at("/soaks/0/soak")
        .asText();
  }
}
