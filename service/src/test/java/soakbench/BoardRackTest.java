package soakbench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.time.Instant;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIf;

/** The board of one rack of many, in a real browser. */
@EnabledIf(value = "soakbench.Chromium#isThere", disabledReason = "Chromium is not there")
class BoardRackTest extends OnABoard {
  private static final Instant START = RunningService.START;

  @Test
  void aBoardWhoseAddressNamesARackShowsItAloneAndTheWayRoundKeepsIt() throws Exception {
    service.roster("id,rack\nOn-1,B 2\nOff-1,C\n");
    service.post(WarmUps.lines("On-1", START, 0, 60, 24, 31));
    service.post(WarmUps.lines("Off-1", START, 0, 60, 24, 31));
    chromium.driver().get(service.url() + "?rack=B+2");
    await().atMost(PATIENCE).until(() -> chromium.text("#heard").equals("1 of 1 heard"));
    assertThat(chromium.text("#notices")).contains("Rack B 2 only", "alarms are told of all racks");
    assertThat(links("#pages a")).contains("/soaks?rack=B%202", "/limits");
    assertThat(links("#trackers a")).allMatch(href -> href.endsWith("/tracker/On-1?rack=B%202"));
    chromium.one("#notices a").click();
    await().atMost(PATIENCE).until(() -> chromium.text("#heard").equals("2 of 2 heard"));
    assertThat(chromium.text("#notices")).isEmpty();
  }

  private static List<String> links(String which) {
    return chromium.all(which).stream().map(a -> a.getDomAttribute("href")).toList();
  }
}
