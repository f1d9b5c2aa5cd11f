package soakbench.pages;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIf;
import soakbench.OnABoard;
import soakbench.RunningService;
import soakbench.WarmUps;

/** The page of what a spreadsheet can pull, in a real browser. */
@EnabledIf(value = "soakbench.Chromium#isThere", disabledReason = "Chromium is not there")
class SheetPageTest extends OnABoard {

  @Test
  void everyAddressIsShownWithWhatItHasNowAndWhatIsCopiedIsAnswered() throws Exception {
    service.post(WarmUps.lines("Cell-1", RunningService.START, 0, 300, 24, 31));
    service.roster("Cell-2", "Merlin");
    chromium.driver().get(service.url() + "sheet?tracker=Cell-1");
    await().atMost(PATIENCE).until(() -> chromium.text("#headline").contains("for a spreadsheet"));
    List<String> addresses =
        chromium.ask("[...document.querySelectorAll('#tables input')].map(i => i.value)");
    assertThat(addresses)
        .hasSizeGreaterThan(4)
        .allMatch(a -> a.startsWith(service.url().toString()));
    for (String address : addresses) {
      String path = address.substring(service.url().toString().length());
      assertThat(service.get(path).lines().findFirst().orElseThrow()).as(path).contains(",");
    }
    chromium.one("#q").sendKeys("temperature_c");
    await().atMost(PATIENCE).until(() -> chromium.texts("#cells tbody tr").size() < 5);
    String formula = chromium.ask("document.querySelector('#cells input').value");
    assertThat(formula).startsWith("=NUMBERVALUE(WEBSERVICE(\"").endsWith("\"),\".\")");
    String address = formula.split("\"")[1];
    assertThat(chromium.text("#cells tbody tr"))
        .contains(service.get(address.substring(service.url().toString().length())), "degC");
    chromium.one("#cells .act").click();
    await().atMost(PATIENCE).until(() -> chromium.text("#said").startsWith("Copied: =NUMBERVALUE"));
    chromium
        .driver()
        .executeScript(
            "document.getElementById('how').value = 'number-de';"
                + "document.getElementById('how').dispatchEvent(new Event('change'))");
    await()
        .atMost(PATIENCE)
        .until(
            () ->
                chromium
                    .<String>ask("document.querySelector('#cells input').value")
                    .startsWith("=ZAHLENWERT"));
  }
}
