package soakbench;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.logging.Level;
import org.awaitility.Awaitility;
import org.openqa.selenium.By;
import org.openqa.selenium.Keys;
import org.openqa.selenium.WebElement;
import org.openqa.selenium.chrome.ChromeDriver;
import org.openqa.selenium.chrome.ChromeDriverService;
import org.openqa.selenium.chrome.ChromeOptions;
import org.openqa.selenium.devtools.Command;
import org.openqa.selenium.json.Json;
import org.openqa.selenium.logging.LogEntry;
import org.openqa.selenium.logging.LogType;
import org.openqa.selenium.logging.LoggingPreferences;

/**
 * A real browser without a window, as somebody finds it who opens it for the first time: each has
 * cookies, storage and tabs of its own. They share one process of the browser, which begins with
 * the first of them and ends with this program: beginning one costs as much as a test.
 */
public final class Chromium implements AutoCloseable {
  /**
   * The one without a window's parts first: it costs half. Itself and not the script that starts
   * it: the driver would end that alone, and the browser would draw on until the machine stops.
   */
  private static final List<Path> USUAL =
      List.of(Path.of("/usr/lib/chromium/chromium-headless-shell"), Path.of("/usr/bin/chromium"));

  private static final Path BINARY =
      Path.of(System.getProperty("soakbench.test.chromium", usual().toString()));
  private static final Path DRIVER =
      Path.of(System.getProperty("soakbench.test.chromedriver", "/usr/bin/chromedriver"));

  private static final Duration A_LOOK = Duration.ofMillis(100);
  private static final String CONTEXT = "browserContextId";

  private static ChromeDriver shared;

  /** The tab that is there as long as the process, where nothing is ever opened. */
  private static String home;

  private final ChromeDriver driver;

  /** Whose cookies and storage: what the browser calls a context. */
  private final String visitor;

  private Chromium(ChromeDriver driver) {
    this.driver = driver;
    visitor = process("Target.createBrowserContext", Map.of(), CONTEXT);
    openTab();
    // What was complained about to the one before is not this one's.
    complaints();
  }

  private static Path usual() {
    return USUAL.stream().filter(Files::isExecutable).findFirst().orElse(USUAL.get(1));
  }

  /** Whether it is installed; says so in one clear line where not, and its tests are skipped. */
  public static boolean isThere() {
    for (Path needed : List.of(BINARY, DRIVER)) {
      if (!Files.isExecutable(needed)) {
        System.err.println(
            "Browser tests are skipped: "
                + needed
                + " is not there. Install chromium and chromium-driver, or give"
                + " -Dsoakbench.test.chromium and -Dsoakbench.test.chromedriver.");
        return false;
      }
    }
    return true;
  }

  public static Chromium start() {
    // A page draws its parts one after another: who looks every few milliseconds sees half of it.
    Awaitility.setDefaultPollDelay(A_LOOK);
    Awaitility.setDefaultPollInterval(A_LOOK);
    return new Chromium(begun());
  }

  private static synchronized ChromeDriver begun() {
    if (shared == null) {
      ChromeDriverService service =
          new ChromeDriverService.Builder()
              .usingDriverExecutable(DRIVER.toFile())
              .usingAnyFreePort()
              .build();
      ChromeDriver begins = new ChromeDriver(service, options());
      Runtime.getRuntime().addShutdownHook(new Thread(begins::quit, "browser"));
      home = begins.getWindowHandle();
      shared = begins;
    }
    return shared;
  }

  private static ChromeOptions options() {
    LoggingPreferences logging = new LoggingPreferences();
    logging.enable(LogType.BROWSER, Level.ALL);
    ChromeOptions options = new ChromeOptions();
    options.setBinary(BINARY.toFile());
    options.addArguments(
        "--headless",
        "--no-sandbox",
        "--disable-gpu",
        "--disable-dev-shm-usage",
        "--disable-background-networking",
        // Each test's service has a port of its own: without these, two new processes each.
        "--process-per-site",
        "--disable-site-isolation-trials",
        "--disable-features=SpareRendererForSitePerProcess");
    options.setCapability("goog:loggingPrefs", logging);
    return options;
  }

  public ChromeDriver driver() {
    return driver;
  }

  /** Opens one more tab, goes there and returns its handle. */
  public String openTab() {
    Map<String, Object> empty = Map.of("url", "about:blank", CONTEXT, visitor);
    String tab = process("Target.createTarget", empty, "targetId");
    driver.switchTo().window(tab);
    return tab;
  }

  /** Has the process do what no page may, and returns one member of its answer. */
  private String process(String command, Map<String, Object> arguments, String member) {
    Map<String, Object> answer =
        driver.getDevTools().send(new Command<>(command, arguments, Json.MAP_TYPE));
    return (String) answer.get(member);
  }

  /** Gives pages a screen of this many CSS px. */
  public void resize(int width, int height) {
    driver.executeCdpCommand(
        "Emulation.setDeviceMetricsOverride",
        Map.of("width", width, "height", height, "deviceScaleFactor", 1, "mobile", false));
  }

  /** Which colours the reader prefers: light or dark. */
  public void scheme(String scheme) {
    driver.executeCdpCommand(
        "Emulation.setEmulatedMedia",
        Map.of("features", List.of(Map.of("name", "prefers-color-scheme", "value", scheme))));
  }

  /** What the page's script answers to one expression. */
  @SuppressWarnings("unchecked")
  public <T> T ask(String expression) {
    return (T) driver.executeScript("return " + expression);
  }

  /** All text of the first such element, whitespace evened out, no-break spaces too. */
  public String text(String selector) {
    return texts(selector).get(0);
  }

  /** The same of every such element, in the page's order. */
  public List<String> texts(String selector) {
    List<String> found =
        ask("[...document.querySelectorAll('" + selector + "')].map(e => e.textContent)");
    return found.stream().map(text -> text.replaceAll("[\\s\\u00a0]+", " ").strip()).toList();
  }

  /** Text of the element that has the keyboard's focus. */
  public String focused() {
    return this.<String>ask("document.activeElement.textContent").strip();
  }

  public WebElement one(String selector) {
    return driver.findElement(By.cssSelector(selector));
  }

  public List<WebElement> all(String selector) {
    return driver.findElements(By.cssSelector(selector));
  }

  /** Presses a key wherever the focus is. */
  public void press(Keys key) {
    driver.switchTo().activeElement().sendKeys(key);
  }

  /** What the browser complained about since it was last asked: errors, refusals, missing files. */
  public List<String> complaints() {
    return driver.manage().logs().get(LogType.BROWSER).getAll().stream()
        .filter(entry -> entry.getLevel().intValue() >= Level.WARNING.intValue())
        .map(LogEntry::getMessage)
        .toList();
  }

  /** Closes its tabs and forgets what pages have stored in it. */
  @Override
  public void close() {
    driver.switchTo().window(home);
    process("Target.disposeBrowserContext", Map.of(CONTEXT, visitor), "nothing");
  }
}
