package soakbench;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.logging.Level;
import org.junit.jupiter.api.Assumptions;
import org.openqa.selenium.chrome.ChromeDriver;
import org.openqa.selenium.chrome.ChromeDriverService;
import org.openqa.selenium.chrome.ChromeOptions;
import org.openqa.selenium.logging.LogEntry;
import org.openqa.selenium.logging.LogType;
import org.openqa.selenium.logging.LoggingPreferences;

/** A real browser without a window. */
final class Chromium implements AutoCloseable {
  private static final Path BINARY =
      Path.of(System.getProperty("soakbench.test.chromium", "/usr/bin/chromium"));
  private static final Path DRIVER =
      Path.of(System.getProperty("soakbench.test.chromedriver", "/usr/bin/chromedriver"));

  private final ChromeDriver driver;

  private Chromium(ChromeDriver driver) {
    this.driver = driver;
  }

  /** Starts it; where it is not installed the test is skipped with one clear line. */
  static Chromium start() {
    for (Path needed : List.of(BINARY, DRIVER)) {
      boolean there = Files.isExecutable(needed);
      if (!there) {
        System.err.println("Browser tests are skipped: " + needed + " is not there.");
      }
      Assumptions.assumeTrue(there, needed + " is not there; install chromium and chromium-driver");
    }
    ChromeDriverService service =
        new ChromeDriverService.Builder()
            .usingDriverExecutable(DRIVER.toFile())
            .usingAnyFreePort()
            .build();
    return new Chromium(new ChromeDriver(service, options()));
  }

  private static ChromeOptions options() {
    LoggingPreferences logging = new LoggingPreferences();
    logging.enable(LogType.BROWSER, Level.ALL);
    ChromeOptions options = new ChromeOptions();
    options.setBinary(BINARY.toFile());
    options.addArguments(
        "--headless=new",
        "--no-sandbox",
        "--disable-gpu",
        "--disable-dev-shm-usage",
        "--disable-background-networking");
    options.setCapability("goog:loggingPrefs", logging);
    return options;
  }

  ChromeDriver driver() {
    return driver;
  }

  /** Gives pages a screen of this many CSS px. */
  void resize(int width, int height) {
    driver.executeCdpCommand(
        "Emulation.setDeviceMetricsOverride",
        Map.of("width", width, "height", height, "deviceScaleFactor", 1, "mobile", false));
  }

  /** What the page's script answers to one expression. */
  @SuppressWarnings("unchecked")
  <T> T ask(String expression) {
    return (T) driver.executeScript("return " + expression);
  }

  /** What the browser complained about since it was last asked: errors, refusals, missing files. */
  List<String> complaints() {
    return driver.manage().logs().get(LogType.BROWSER).getAll().stream()
        .filter(entry -> entry.getLevel().intValue() >= Level.WARNING.intValue())
        .map(LogEntry::getMessage)
        .toList();
  }

  @Override
  public void close() {
    driver.quit();
  }
}
