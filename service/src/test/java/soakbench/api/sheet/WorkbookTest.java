package soakbench.api.sheet;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.net.http.HttpClient;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.regex.Pattern;
import java.util.zip.ZipEntry;
import java.util.zip.ZipFile;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.api.io.TempDir;
import soakbench.api.Http;
import soakbench.api.Lines;
import soakbench.api.Service;
import soakbench.api.soaks.SoakTest;

/** Workbooks, by what is packed in them. */
@ExtendWith(Service.Running.class)
class WorkbookTest {
  private static final Pattern FORMULA = Pattern.compile("<f>(.*?)</f>");

  @TempDir private Path folder;

  @BeforeAll
  static void record(Service service) {
    service.http.send(
        "PUT", "/api/trackers", "text/csv", "id,name,lot\nX-1,=1+1,XL\nX-2,Wren,XL\n");
    SoakTest.send(service, Lines.steady("X-1", Service.START_US, 40));
  }

  private static HttpResponse<byte[]> get(Service service, String path)
      throws IOException, InterruptedException {
    return HttpClient.newHttpClient()
        .send(service.http.request(path).GET().build(), BodyHandlers.ofByteArray());
  }

  /** By its directory, as spreadsheets read it; the packer tells sizes only there. */
  private Map<String, String> parts(byte[] workbook) throws IOException {
    Map<String, String> parts = new TreeMap<>();
    try (ZipFile zip = new ZipFile(Files.write(folder.resolve("book.xlsx"), workbook).toFile())) {
      for (ZipEntry part : Collections.list(zip.entries())) {
        byte[] text = zip.getInputStream(part).readAllBytes();
        parts.put(part.getName(), new String(text, StandardCharsets.UTF_8));
      }
    }
    return parts;
  }

  @Test
  void eachTableIsASheetWithItsColumnsAndTypes(Service service) throws Exception {
    HttpResponse<byte[]> answer = get(service, "/sheet/tables.xlsx?lot=XL&zone=UTC");
    assertThat(answer.headers().firstValue("Content-Disposition"))
        .hasValue("attachment; filename=\"soakbench-tables.xlsx\"");
    Map<String, String> parts = parts(answer.body());
    assertThat(parts.get("xl/workbook.xml"))
        .contains("readiness", "figures", "figures_long", "calibrations", "soaks", "trackers")
        .contains("lots", "imports")
        .contains("\"columns\"");
    assertThat(parts.get("xl/sharedStrings.xml"))
        .contains("temperature_c", "=1+1", "X-2", "deg/s per degC", "UTC");
    assertThat(parts.get("xl/worksheets/sheet1.xml")).contains("<v>24.50000</v>");
    JsonNode soaks = service.http.json("/api/soaks?lot=XL", "SoakList").get("soaks");
    assertThat(parts.get("xl/worksheets/sheet5.xml").split("<row ")).hasSize(soaks.size() + 2);
  }

  @Test
  void onlyTheTablesAskedForAndAMisspeltOneIsNamed(Service service) throws Exception {
    Map<String, String> parts = parts(get(service, "/sheet/tables.xlsx?tables=soaks").body());
    assertThat(parts).containsKeys("xl/worksheets/sheet1.xml", "xl/worksheets/sheet2.xml");
    assertThat(parts).doesNotContainKey("xl/worksheets/sheet3.xml");
    JsonNode problem =
        Http.problem(service.http.get("/sheet/tables.xlsx?tables=soak"), 400, "invalid-request");
    assertThat(problem.get("detail").asText()).contains("did you mean \"soaks\"?");
    assertThat(service.http.get("/sheet/tables.xlsx?tables=nothing").body()).contains("there are");
  }

  @Test
  void theLiveWorkbookAsksTheServiceItCameFromForItsTrackers(Service service) throws Exception {
    Map<String, String> parts = parts(get(service, "/sheet/live.xlsx?lot=XL").body());
    String url = service.server.url().toString();
    assertThat(parts.get("xl/sharedStrings.xml"))
        .contains(url.substring(0, url.length() - 1), "X-1", "X-2");
  }

  /** It is written by the bench command of that name. */
  @Test
  void theWorkbookOfTheDocsIsAsItIsWrittenAndEachFormulasFigureIsOffered(Service service)
      throws Exception {
    String docs = sheet(Files.readAllBytes(Path.of("../docs/live-cells.xlsx")));
    List<String> formulas = FORMULA.matcher(docs).results().map(m -> m.group(1)).toList();
    String served = sheet(get(service, "/sheet/live.xlsx?lot=XL").body());
    assertThat(formulas)
        .isEqualTo(FORMULA.matcher(served).results().map(m -> m.group(1)).toList())
        .hasSize(24 * LiveWorkbook.COLUMNS.size());
    for (LiveWorkbook.Live live : LiveWorkbook.COLUMNS) {
      assertThat(formulas).anyMatch(f -> f.contains("/" + live.figure() + "?unknown="));
      HttpResponse<String> cell =
          service.http.get("/sheet/cell/X-1/" + live.figure() + "?unknown=none");
      assertThat(cell.statusCode()).as(live.figure()).isEqualTo(200);
      boolean number = cell.body().matches("-?[0-9.]+");
      assertThat(number || cell.body().equals("none") || !live.number())
          .as(live.figure() + " is " + cell.body())
          .isTrue();
    }
  }

  private String sheet(byte[] workbook) throws IOException {
    return parts(workbook).get("xl/worksheets/sheet1.xml");
  }

  @Test
  void whatThereIsToPullIsListedWithWhatATrackersCellsHave(Service service) {
    JsonNode sheet = service.http.json("/api/sheet?tracker=X-1", "Sheet");
    assertThat(sheet.get("sheets")).hasSize(8);
    for (JsonNode table : sheet.get("sheets")) {
      String path = table.get("path").asText();
      String header = service.http.get(path).body().split("\r\n")[0];
      assertThat(List.of(header.split(","))).as(path).hasSizeGreaterThanOrEqualTo(8);
    }
    for (JsonNode cell : sheet.get("cells")) {
      if (cell.get("cell").asText().equals("temperature_c")) {
        assertThat(cell.get("shown").asText()).isEqualTo("24.50000");
        assertThat(cell.get("unit").asText()).isEqualTo("degC");
      }
    }
  }
}
