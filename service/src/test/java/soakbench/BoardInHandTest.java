package soakbench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.time.Instant;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIf;

/** A tracker in somebody's hand, on the board of a real service that its lines reach one by one. */
@EnabledIf(value = "soakbench.Chromium#isThere", disabledReason = "Chromium is not there")
class BoardInHandTest extends OnABoard {
  private static final Instant START = RunningService.START;
  private static final int READY_S = 1200;
  private static final double HAND_DPS = 60;

  private final Random noise = new Random(3);
  private int nowS = READY_S;
  private int bootS = -3600;

  @Test
  void liftedATileSaysThatItIsThisOneAndTheFacesAreCountedAlong() throws Exception {
    service.rates("Hand-1", "Unit Hand-1", "raw");
    StringBuilder lines = new StringBuilder();
    for (int s = 0; s < READY_S; s++) {
      lines.append(second(s, "0,0,1", 0.01));
    }
    service.post(lines.toString());
    service.post(WarmUps.lines("Hand-2", START, 0, READY_S, 20, 31));
    openBoard();
    await().atMost(PATIENCE).until(() -> chromium.all(".tile[data-calls]").size() == 2);
    assertThat(chromium.one("#hand").isDisplayed()).isFalse();
    seconds(12, "0,0,1", 0.01);
    seconds(3, "0,0,1", HAND_DPS);
    await().atMost(PATIENCE).until(() -> chromium.one("#hand").isDisplayed());
    assertThat(chromium.text("#hand .hand-name")).isEqualTo("Unit Hand-1");
    assertThat(chromium.text("#hand .hand-face")).isEqualTo("moving");
    assertThat(chromium.texts(".tile[data-held] .held")).containsExactly("this one");
    assertThat(chromium.one(".tile[data-held]").getAttribute("id")).isEqualTo("tracker-Hand-1");

    seconds(5, "0,0,-1", 0.01);
    seconds(2, "0,0,1", HAND_DPS);
    seconds(1, "1,0,0", 0.01);
    seconds(2, "0,0,1", HAND_DPS);
    seconds(4, "0,1,0", 0.01);
    await().atMost(PATIENCE).until(() -> chromium.text("#hand .hand-face").equals("face 3 of 6"));
    await()
        .atMost(PATIENCE)
        .until(() -> chromium.text("#hand .hand-still").startsWith("still 3 s"));
    assertThat(chromium.texts(".hand-box li"))
        .as("unfolded, each by the axis that is up")
        .containsExactly(
            "now +y · 3",
            "to come −x",
            "to come +z",
            "again +x · 2",
            "✓ done −z · 1",
            "to come −y");
    itLiesUnfolded();
    assertThat(chromium.text(".hand-note")).isEqualTo("Held too short, once more: face 2 (+x up).");
    assertThat(chromium.text(".hand-warm")).matches("\\d\\d\\.\\d °C");
    assertThat(chromium.one("#hand").getAttribute("aria-label"))
        .matches("Unit Hand-1: face 3 of 6, still 3\\h*s, .* in the open");
    readInADarkRoom();
    soundIsOffAtFirstAndRemembered();
    for (int width : new int[] {390, 1366, 1920}) {
      chromium.resize(width, 844);
      await()
          .atMost(PATIENCE)
          .until(
              () -> chromium.<Long>ask("document.documentElement.scrollWidth"), px -> px <= width);
    }

    theGuideStandsAloneOnAPhoneUnlessTheBoardIsAskedFor();
    offAndOn(5);
    seconds(3, "0,1,0", 0.01);
    await()
        .atMost(PATIENCE)
        .until(
            () -> chromium.texts("#hand > p, .notice").toString(),
            words -> words.contains("Off and on at face 3."));
    assertThat(chromium.texts(".off-and-on")).containsExactly("off/on");
    seconds(33, "0,1,0", 0.01);
    await().atMost(PATIENCE).until(() -> !chromium.one("#hand").isDisplayed());
    assertThat(chromium.all(".tile[data-held]")).isEmpty();
    assertThat(chromium.complaints()).isEmpty();
  }

  /** What is opposite each other in the box never lies side by side. */
  private static void itLiesUnfolded() {
    List<Object> places =
        chromium.ask(
            "['+y', '-x', '+z', '+x', '-z', '-y'].map(s => {"
                + " const r = document.querySelector(`.hand-box [data-side='${s}']`)"
                + ".getBoundingClientRect(); const o = document.querySelector("
                + "`.hand-box [data-side='+z']`).getBoundingClientRect();"
                + " return `${Math.sign(r.left - o.left)},${Math.sign(r.top - o.top)}`; })");
    assertThat(places).containsExactly("0,-1", "-1,0", "0,0", "1,0", "1,0", "0,1");
  }

  private static void theGuideStandsAloneOnAPhoneUnlessTheBoardIsAskedFor() {
    chromium.resize(390, 844);
    await().atMost(PATIENCE).until(() -> !chromium.one("#trackers").isDisplayed());
    assertThat(chromium.<String>ask("getComputedStyle(document.body).backgroundColor"))
        .isEqualTo("rgb(12, 11, 9)");
    chromium.one("#hand .hand-whole").click();
    await().atMost(PATIENCE).until(() -> chromium.one("#trackers").isDisplayed());
    chromium.one("#hand .hand-whole").click();
    chromium.resize(1920, 1080);
  }

  /** Black whatever the theme. */
  private static void readInADarkRoom() {
    assertThat(chromium.one("#hand").getCssValue("background-color"))
        .isEqualTo("rgba(12, 11, 9, 1)");
  }

  private void soundIsOffAtFirstAndRemembered() {
    assertThat(chromium.text("#hand button")).isEqualTo("Sound a face: off");
    chromium.one("#hand button").click();
    assertThat(chromium.text("#hand button")).isEqualTo("Sound a face: on");
    openBoard();
    await().atMost(PATIENCE).until(() -> chromium.one("#hand").isDisplayed());
    assertThat(chromium.text("#hand button")).isEqualTo("Sound a face: on");
    chromium.driver().executeScript("localStorage.clear()");
  }

  @Test
  void theChimeIsOffAtFirstAndRememberedAndCountsInTheTitleWhileNobodyLooks() throws Exception {
    openBoard();
    await().atMost(PATIENCE).until(() -> chromium.text("#bell").equals("Chime off"));
    chromium.one("#bell").click();
    openBoard();
    await().atMost(PATIENCE).until(() -> chromium.text("#bell").equals("Chime on"));
    service.post(WarmUps.lines("Bell-1", START, 0, 300, 20, 31));
    await().atMost(PATIENCE).until(() -> chromium.all(".tile").size() == 1);
    chromium
        .driver()
        .executeScript("Object.defineProperty(document, 'hidden', { get: () => true })");
    service.post(WarmUps.lines("Bell-1", START, 300, READY_S, 20, 31));
    await()
        .atMost(PATIENCE)
        .until(() -> chromium.driver().getTitle().equals("(1) 1 of 1 ready · Soakbench"));
    chromium.one("#bell").click();
    service.second();
    await().atMost(PATIENCE).until(() -> chromium.text("#bell").equals("Chime off"));
    assertThat(chromium.complaints()).isEmpty();
    chromium.driver().executeScript("localStorage.clear()");
  }

  /** Nothing is sent for so long, then it has begun anew. */
  private void offAndOn(int forS) {
    nowS += forS;
    bootS = nowS;
  }

  /** Seconds of both, the first of them with its face upwards and turned by so much. */
  private void seconds(int count, String up, double sdDps) throws Exception {
    for (int s = 0; s < count; s++) {
      String other = WarmUps.lines("Hand-2", START, nowS, nowS + 1, 20, 31);
      service.post(second(nowS, up, sdDps) + other);
      nowS++;
    }
  }

  /** A second of a tracker with an accelerometer that warms up as {@link WarmUps} do. */
  private String second(int s, String up, double sdDps) {
    StringBuilder lines = new StringBuilder();
    for (int i = 0; i < 10; i++) {
      double tS = s + i / 10.0;
      double warmC = 31 - 11 * Math.exp(-tS / 240);
      double bias = 0.004 * (warmC - 25);
      lines.append(
          "{\"id\":\"Hand-1\",\"time\":\"%s\",\"temp_c\":%.3f,\"gyro_dps\":[%.5f,%.5f,%.5f],\"accel_g\":[%s],\"t_ms\":%d}%n"
              .formatted(
                  START.plusMillis(Math.round(1000 * tS)),
                  warmC + rate(0.01),
                  bias + rate(sdDps),
                  -bias + rate(sdDps),
                  rate(sdDps),
                  up,
                  Math.round(1000 * (tS - bootS))));
    }
    return lines.toString();
  }

  private double rate(double sdDps) {
    return sdDps * noise.nextGaussian();
  }

  private void openBoard() {
    chromium.complaints();
    chromium.driver().get(service.url().toString());
  }
}
