package soakbench.api.calibrations;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.net.URI;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import soakbench.api.Lines;
import soakbench.api.Service;
import soakbench.api.roster.TrackerFields;
import soakbench.api.soaks.SoakTest;
import soakbench.live.figures.FigureDeriver;

/** Holds the user's guide to the HTTP interface against the service. */
@ExtendWith(Service.Running.class)
class GuideTest {
  private static final Path DOCS = Path.of("..", "docs");
  private static final Path GUIDE = DOCS.resolve("api.md");
  private static final Pattern ADDRESS =
      Pattern.compile("http://127\\.0\\.0\\.1:8094(/[^'\"\\s`]*)");

  @Test
  void everyAddressThatTheGuidesFetchIsAnsweredAsTheySay(Service service) throws IOException {
    SoakTest.send(service, Lines.steady("MRY-01", Service.START_US, 50));
    SoakTest.send(service, Lines.warmUp("W-31", Service.START_US - 900_000_000L, 900));
    String soak = SoakTest.soakOf(service, "W-31");
    lists(service, "MRY-01", "Barley-2");
    lists(service, "W-31", "Thistle-5");
    assertThat(service.http.send("POST", "/api/imports?sender=monday", null, "").statusCode())
        .isEqualTo(201);
    FigureDeriver keeper = new FigureDeriver(service.database.figures());
    while (keeper.deriveOutdated() > 0) {
      // Until no soak of these tests waits for its figures.
    }
    service.http.send("PUT", "/api/trackers/MRY-02", "application/json", "{\"lot\":\"K14\"}");
    assertThat(answered(service, "api.md", soak)).hasSizeGreaterThan(12);
    assertThat(answered(service, "spreadsheet.md", soak))
        .hasSizeGreaterThan(8)
        .anyMatch(path -> path.startsWith("/sheet/cells?"));
  }

  private static List<String> answered(Service service, String guide, String soak)
      throws IOException {
    List<String> asked = new ArrayList<>();
    for (String line : Files.readAllLines(DOCS.resolve(guide))) {
      Matcher address = ADDRESS.matcher(line);
      if (line.startsWith("curl ") && isPlainGet(line) && address.find()) {
        String path = address.group(1).replace("$SOAK", soak);
        int status = path.contains("MRY-99") ? 404 : path.contains("yesterday") ? 400 : 200;
        assertThat(service.http.get(path).statusCode()).as(line).isEqualTo(status);
        asked.add(path);
      }
    }
    return asked;
  }

  private static void lists(Service service, String tracker, String lot) {
    String body = "{\"lot\":\"" + lot + "\"}";
    service.http.send("PUT", "/api/trackers/" + tracker, "application/json", body);
  }

  private static boolean isPlainGet(String line) {
    return !line.matches(".* (-T|-X|-N|--data-binary) .*");
  }

  @Test
  void theColumnsThatTheGuideNamesAreThoseOfTheRoster() throws IOException {
    assertThat(Files.readString(GUIDE)).contains("`" + String.join(",", TrackerFields.NAMES) + "`");
  }

  @Test
  void theFilesThatTheGuideNamesForPagesAreThere(Service service) throws IOException {
    Matcher file = Pattern.compile("`(/lib/[^`]+)`").matcher(Files.readString(GUIDE));
    while (file.find()) {
      URI address = service.http.base().resolve(file.group(1));
      assertThat(service.http.get(address.getPath()).statusCode()).as(file.group(1)).isEqualTo(200);
    }
  }
}
