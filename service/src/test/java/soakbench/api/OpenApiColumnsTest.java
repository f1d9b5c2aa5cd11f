package soakbench.api;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.HashSet;
import java.util.List;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import soakbench.api.soaks.SoakTest;
import soakbench.live.figures.FigureDeriver;

/** The description lists the columns of every CSV table. */
@ExtendWith(Service.Running.class)
class OpenApiColumnsTest {
  private static final String TRACKER = "C-1";

  @Test
  void everyTableHasTheColumnsThatAreDescribed(Service service) {
    SoakTest.send(service, Lines.warmUp(TRACKER, Service.START_US, 5));
    String lot = "{\"lot\":\"" + TRACKER + "\"}";
    service.http.send("PUT", "/api/trackers/" + TRACKER, "application/json", lot);
    while (new FigureDeriver(service.database.figures()).deriveOutdated() > 0) {
      continue;
    }
    String soak = SoakTest.soakOf(service, TRACKER);
    long imported = service.database.imports().begin("a test", "127.0.0.1");
    Set<String> seen = new HashSet<>();
    for (Described.Call call : Described.calls()) {
      if (call.path().endsWith(".csv")) {
        String path =
            call.path()
                .replace("{soak}", soak)
                .replace("{id}", TRACKER)
                .replace("{lot}", TRACKER)
                .replace("{import}", String.valueOf(imported));
        var tables = call.operation().path("x-columns");
        assertThat(tables).as(call + " names its tables in x-columns").isNotEmpty();
        for (int i = 0; i < tables.size(); i++) {
          String table = tables.get(i).asText();
          // A second table is the one for charts.
          String csv = header(service, call.method(), path + (i == 0 ? needed(call) : "?points=2"));
          assertThat(List.of(csv.split(",")))
              .as(call + " " + table)
              .containsExactlyInAnyOrderElementsOf(Columns.header(table));
          seen.add(table);
        }
      }
    }
    assertThat(seen).as("no table is described that no call has").hasSameSizeAs(tables());
  }

  /** What a call can't be made without. */
  private static String needed(Described.Call call) {
    return call.path().startsWith("/api/lot-comparison") ? "?lots=" + TRACKER : "";
  }

  private static List<String> tables() {
    return Columns.all().stream().map(Described.Named::where).distinct().toList();
  }

  private static String header(Service service, String method, String address) {
    var answer =
        method.equals("GET")
            ? service.http.get(address)
            : service.http.send(method, address, "application/json", "{}");
    return Http.csv(answer).split("\r\n", 2)[0];
  }

  @Test
  void everyColumnIsAMemberOfItsRowOrHasWordsOfItsOwn() {
    assertThat(Columns.all()).filteredOn(column -> column.schema() == null).isEmpty();
  }
}
