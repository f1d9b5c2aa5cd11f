package soakbench.api.lots;

import static org.assertj.core.api.Assertions.assertThat;

import java.lang.management.ManagementFactory;
import java.lang.management.OperatingSystemMXBean;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import soakbench.api.Http;

/** How long lots of many units with several soaks each take. */
@Tag("bench")
@Timeout(590)
class ManyLotsTest {
  private static final int TIMES = 9;

  private static double medianMs(Http http, String path) {
    List<Double> ms = new ArrayList<>();
    long cpuNs = cpuNs();
    for (int i = 0; i < TIMES; i++) {
      long startNs = System.nanoTime();
      assertThat(http.get(path).statusCode()).as(path).isEqualTo(200);
      ms.add((System.nanoTime() - startNs) / (double) TimeUnit.MILLISECONDS.toNanos(1));
    }
    ms.sort(null);
    System.out.printf(
        "%s: %.0f ms, the slowest %.0f; %.0f ms of processor%n",
        path, ms.get(TIMES / 2), ms.get(TIMES - 1), (cpuNs() - cpuNs) / 1e6 / TIMES);
    return ms.get(TIMES / 2);
  }

  private static long cpuNs() {
    OperatingSystemMXBean system = ManagementFactory.getOperatingSystemMXBean();
    return ((com.sun.management.OperatingSystemMXBean) system).getProcessCpuTime();
  }

  @Test
  void lotsOfTwoThousandTrackersAreComparedInThreeTenthsOfASecond() throws Exception {
    StoredLots lots = new StoredLots(5);
    for (String name : List.of("Barley-2", "Thistle-5", "Sorrel-1", "Tansy-4")) {
      lots.lot(name, 490, 0.01, "window", 5, 1, 8, 15);
    }
    lots.lot("Clover-9", 20, 0.01, "window", 5, 1, 8, 15).lot("Fern-3", 20, 0.02, "window", 5, 1);
    try (LotService service = new LotService(lots)) {
      Http http = service.http;
      double figures = medianMs(http, "/api/figures?limit=10000");
      double two = medianMs(http, "/api/lot-comparison?lots=Barley-2,Thistle-5");
      double small = medianMs(http, "/api/lot-comparison?lots=Clover-9,Fern-3&at_c=30");
      double mixed = medianMs(http, "/api/lot-comparison?lots=Clover-9,Thistle-5,Sorrel-1");
      double four =
          medianMs(http, "/api/lot-comparison?lots=Barley-2,Thistle-5,Sorrel-1,Tansy-4&at_c=30");
      double all = medianMs(http, "/api/lots");
      double units = medianMs(http, "/api/lots/Tansy-4");
      assertThat(List.of(two, small, mixed, four, all, units)).allMatch(ms -> ms < 300);
      assertThat(four).as("beside the table of all figures").isLessThan(3 * figures);
    }
  }
}
