package soakbench.bench.pictures;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.Base64;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import soakbench.Chromium;
import soakbench.RunningService;
import soakbench.api.http.Json;
import soakbench.demo.DemoLines;
import soakbench.model.Tracker;
import soakbench.store.Database;
import soakbench.store.SharedServer;

/**
 * Plays the demo to a service of its own, by the demo's clock and not the computer's, and takes the
 * pictures of its pages in a real browser.
 */
final class PictureRun {
  private static final Instant START = RunningService.START;
  private static final int STEP_S = 10;
  private static final Duration PATIENCE = Duration.ofSeconds(30);
  private static final Duration STILL = Duration.ofMillis(400);

  private static final int MOST_LOOKS = 25;

  private final Path folder;
  private final RunningService service;
  private final Chromium chromium;
  private final DemoLines lines;
  private final int untilS;
  private final Map<Picture, Pictured> taken = new EnumMap<>(Picture.class);
  private int nowS;

  private PictureRun(
      Path folder, RunningService service, Chromium chromium, DemoLines lines, int untilS) {
    this.folder = folder;
    this.service = service;
    this.chromium = chromium;
    this.lines = lines;
    this.untilS = untilS;
  }

  /**
   * Takes all pictures.
   *
   * @param folder where they go
   * @param every of each tracker's lines only one in so many, which is quicker; 1 for all
   * @param untilS the demo is played no further, s: what is pictured later is taken then, and need
   *     not show what it should
   */
  static Map<Picture, Pictured> take(Path folder, int every, int untilS) throws Exception {
    Files.createDirectories(folder);
    try (Database database = Database.open(SharedServer.empty());
        RunningService service = RunningService.start(database, 0);
        Chromium chromium = Chromium.start();
        DemoLines lines = new DemoLines(START.toEpochMilli() * 1000, every)) {
      PictureRun run = new PictureRun(folder, service, chromium, lines, untilS);
      run.all();
      chromium.driver().get("about:blank");
      return run.taken;
    }
  }

  private void all() throws Exception {
    cdp("Emulation.setTimezoneOverride", Map.of("timezoneId", "UTC"));
    cdp("Emulation.setScrollbarsHidden", Map.of("hidden", true));
    service.roster(roster(lines.roster()));
    for (Picture picture : Picture.values()) {
      playTo(Math.min(picture.atS, untilS));
      if (picture == Picture.HAND) {
        // Whoever holds a tracker in the hand has looked at the heat of before.
        service.seenAll();
      }
      open(picture);
      Files.write(folder.resolve(picture.file()), SmallPng.of(shot()));
    }
    complain();
  }

  private static String roster(List<Tracker> trackers) {
    return trackers.stream()
        .map(t -> String.join(",", t.id(), t.name(), t.lot(), t.rack(), t.slot(), "raw"))
        .collect(Collectors.joining("\n", "id,name,lot,rack,slot,rates\n", "\n"));
  }

  private void playTo(int untilS) throws Exception {
    while (nowS < untilS) {
      int stepS = Math.min(STEP_S, untilS - nowS);
      nowS += stepS;
      String printed = lines.until(START.plusSeconds(nowS).toEpochMilli() * 1000);
      service.pass(Duration.ofSeconds(stepS), printed);
    }
    service.findCalibrations();
    service.deriveFigures();
  }

  private void open(Picture picture) throws Exception {
    chromium.resize(picture.widthPx, picture.heightPx);
    chromium.driver().get(service.url() + path(picture.path));
    long untilNs = System.nanoTime() + PATIENCE.toNanos();
    while (inTime(picture)
        && !Pictured.now(chromium).shows(picture.words)
        && System.nanoTime() < untilNs) {
      Thread.sleep(STILL.toMillis());
    }
    taken.put(picture, still());
  }

  private boolean inTime(Picture picture) {
    return picture.atS <= untilS;
  }

  /** What did not show what it should, with what it showed in its place. */
  private void complain() {
    taken.forEach(
        (picture, pictured) -> {
          if (inTime(picture) && !pictured.shows(picture.words)) {
            throw new IllegalStateException(
                picture.file() + " does not show " + picture.words + " but: " + pictured.text());
          }
        });
  }

  /** Pages draw their parts as they are answered: waits until nothing more is added. */
  private Pictured still() throws InterruptedException {
    Pictured before = null;
    Pictured now = Pictured.now(chromium);
    for (int looks = 0; looks < MOST_LOOKS && !now.equals(before); looks++) {
      Thread.sleep(STILL.toMillis());
      before = now;
      now = Pictured.now(chromium);
    }
    return now;
  }

  private String path(String path) throws Exception {
    int brace = path.indexOf('{');
    if (brace < 0) {
      return path;
    }
    String tracker = path.substring(brace + 1, path.indexOf('}'));
    String soak =
        Json.mapper()
            .readTree(service.get("api/soaks?limit=1&tracker=" + tracker))
            .at("/soaks/0/soak")
            .asText();
    return path.replace("{" + tracker + "}", soak);
  }

  private byte[] shot() {
    Map<String, Object> answer = cdp("Page.captureScreenshot", Map.of("format", "png"));
    return Base64.getDecoder().decode((String) answer.get("data"));
  }

  private Map<String, Object> cdp(String command, Map<String, Object> arguments) {
    return chromium.driver().executeCdpCommand(command, arguments);
  }
}
