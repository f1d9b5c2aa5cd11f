package soakbench.api;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import java.util.zip.GZIPInputStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import soakbench.api.soaks.SoakTest;

@ExtendWith(Service.Running.class)
class PageTest {

  @Test
  void theBoardIsAtTheRoot(Service service) {
    HttpResponse<String> page = service.http.get("/");
    assertThat(page.statusCode()).isEqualTo(200);
    assertThat(page.headers().firstValue("Content-Type").orElseThrow()).startsWith("text/html");
    assertThat(page.body()).contains("<title>Soakbench</title>");
  }

  @Test
  void theChartLibraryIsServedWithoutItsVersionInTheAddress(Service service) {
    HttpResponse<String> script = service.http.get("/lib/uplot/dist/uPlot.esm.js");
    assertThat(script.statusCode()).isEqualTo(200);
    assertThat(script.headers().firstValue("Content-Type").orElseThrow())
        .startsWith("text/javascript");
    assertThat(service.http.get("/lib/uplot/dist/uPlot.min.css").statusCode()).isEqualTo(200);
  }

  @Test
  void aPageAboutOneThingIsAtItsAddressAndItsFilesAreNotTakenForThings(Service service) {
    for (String path : List.of("/tracker/T-0412", "/tracker/page.js", "/soak/T-0412@1/report")) {
      HttpResponse<String> page = service.http.get(path);
      assertThat(page.statusCode()).as(path).isEqualTo(200);
      assertThat(page.headers().firstValue("Content-Type").orElseThrow()).startsWith("text/html");
    }
    for (String path : List.of("/tracker/js/page.js", "/charts/chart.js", "/report/js/page.js")) {
      HttpResponse<String> script = service.http.get(path);
      assertThat(script.statusCode()).as(path).isEqualTo(200);
      assertThat(script.headers().firstValue("Content-Type").orElseThrow())
          .as(path)
          .startsWith("text/javascript");
    }
  }

  @Test
  void noPageReadsTheServicesWordsToLearnWhatTheyMean() throws Exception {
    Path folder = Path.of(PageTest.class.getResource("/dashboards/index.html").toURI()).getParent();
    try (Stream<Path> files = Files.walk(folder)) {
      for (Path module : files.filter(f -> f.toString().endsWith(".js")).toList()) {
        assertThat(Files.readString(module))
            .as(module.getFileName().toString())
            .doesNotContain(".test(", ".match(", "RegExp");
      }
    }
  }

  @Test
  void everyAnswerKeepsBrowsersToOurOwnPages(Service service) {
    for (String path : List.of("/", "/api/trackers", "/nothing", "/openapi.yaml")) {
      HttpResponse<String> answer = service.http.get(path);
      assertThat(answer.headers().firstValue("Content-Security-Policy").orElseThrow())
          .as(path)
          .startsWith("default-src 'self';");
      assertThat(answer.headers().firstValue("X-Content-Type-Options")).hasValue("nosniff");
      assertThat(answer.headers().firstValue("Cross-Origin-Resource-Policy"))
          .hasValue("same-origin");
      assertThat(answer.headers().firstValue("Server")).isEmpty();
    }
  }

  @Test
  void largeAnswersArePackedForClientsThatTakeIt(Service service)
      throws IOException, InterruptedException {
    SoakTest.send(service, Lines.steady("G-1", Service.START_US, 2000));
    String soak = SoakTest.soakOf(service, "G-1");
    for (String path :
        List.of("/", "/api/soaks/" + soak + "/samples.csv", "/api/soaks/" + soak + "/samples")) {
      String plain = service.http.get(path).body();
      HttpResponse<byte[]> packed =
          java.net.http.HttpClient.newHttpClient()
              .send(
                  service.http.request(path, "Accept-Encoding", "gzip").GET().build(),
                  BodyHandlers.ofByteArray());
      assertThat(packed.headers().firstValue("Content-Encoding")).as(path).hasValue("gzip");
      assertThat(packed.body().length).as(path).isLessThan(plain.length());
      byte[] unpacked = new GZIPInputStream(new ByteArrayInputStream(packed.body())).readAllBytes();
      assertThat(new String(unpacked, java.nio.charset.StandardCharsets.UTF_8)).isEqualTo(plain);
    }
  }

  @Test
  void headAnswersAsGetWouldWithoutTheBody(Service service) {
    for (String path :
        List.of(
            "/api/trackers.csv",
            "/api/soaks/none/bins.csv",
            "/api/soaks",
            "/pair",
            "/openapi.json",
            "/",
            "/health")) {
      HttpResponse<String> get = service.http.get(path);
      HttpResponse<String> head =
          service.http.send(
              service.http.request(path).method("HEAD", BodyPublishers.noBody()).build());
      assertThat(head.statusCode()).as(path).isEqualTo(get.statusCode());
      assertThat(head.headers().firstValue("Content-Type"))
          .as(path)
          .isEqualTo(get.headers().firstValue("Content-Type"));
      assertThat(head.body()).isEmpty();
      // RFC 9110, 9.3.2: a length of HEAD is the one that GET would say, or none is said.
      head.headers()
          .firstValue("Content-Length")
          .ifPresent(
              length ->
                  assertThat(get.headers().firstValue("Content-Length")).as(path).hasValue(length));
    }
  }
}
